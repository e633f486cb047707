"""What a weighing says, in words with its limit: nothing is claimed that the scale can't tell."""

from geometry.weights import pounds
from spools.flow.weigh_back import FALSE_ALARM, SURE, Check
from spools.models import Weighing


def say_weight(kg: float) -> str:
    """Return a weight in whole pounds: ``2,604 lb``."""
    return f"{pounds(kg):,.0f} lb"


def say_verdict(check: Check, way: str) -> str:
    """Return the first sentence: whether it agrees, and if not what that may mean."""
    off = say_weight(abs(check.off_kg))
    if check.verdict == "agrees":
        return f"The weight agrees with the count: {off} {'under' if check.off_kg < 0 else 'over'}, within its scatter."
    if check.verdict == "light":
        about = max(1, round(check.pieces_short))
        pieces = f"{about} spool{'s' if about > 1 else ''} of the average weight"
        if way == Weighing.Way.OUT:
            return f"{off} light. That is about {pieces}: count what is on the truck again."
        return f"{off} light. That is about {pieces}, or thin coats: count again, then measure a few coats."
    if way == Weighing.Way.OUT:
        return f"{off} heavy: heavier pipe than computed, or more on the truck than the list says. Count again."
    factor = f" ({check.zinc_factor:.1f} times the standard's least)" if check.zinc_factor else ""
    return f"{off} heavy: more zinc than usual{factor}, or water left inside. Look at the seats and the drain holes."


def say_limit(check: Check, scale_kg: float) -> str:
    """Return what this weighing can't tell, with the figures it rests on."""
    average = say_weight(check.average_kg)
    chance = f"{100 * check.chance:.0f} %"
    words = (
        f"It can't tell less than {say_weight(check.finds_from_kg)} for sure ({100 * SURE:.0f} % of the time). One "
        f"lost spool of {average} would show {chance} of the time; {100 * FALSE_ALARM:.0f} weighings in 100 look "
        f"wrong though nothing is. It rests on a scale error of {say_weight(scale_kg)} a reading and on the scatter "
        f"of pipe and zinc: {say_weight(check.sigma_kg)} in all, an estimate."
    )
    if check.scale_needed_kg <= 0:
        return f"{words} No scale would find one spool here: the zinc and pipe scatter more than that."
    if check.chance < SURE:
        return f"{words} A scale good to {say_weight(check.scale_needed_kg)} a reading would find one spool."
    return words
