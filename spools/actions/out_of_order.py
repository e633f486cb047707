"""What physics puts before a step and is not recorded yet, and the question that is asked about it."""

from spools.errors import ShopError
from spools.flow.routes import Route, piece_of
from spools.flow.status import Standing
from spools.flow.steps import BY_CODE, Step, before, say

NOUNS = {"grooved": "groove", "beveled": "bevel", "coped": "cope", "threaded": "thread"}
LEGS = frozenset("AB")


def missing_before(row: Step, targets: tuple[str, ...], standing: Standing, route: Route) -> dict[str, tuple[str, ...]]:
    """Return every step still missing for these targets, earliest first, with what lies before the missing ones too."""
    found: dict[str, set[str]] = {}
    looking = [(row, target) for target in targets]
    while looking:
        step, target = looking.pop()
        for code, needed in before(step, target, route):
            done = standing.done.get(code, ())
            for left in (t for t in needed if t not in done and t not in found.get(code, set())):
                found.setdefault(code, set()).add(left)
                looking.append((BY_CODE[code], left))
    return {
        step.code: tuple(t for t in step.targets(route) if t in found[step.code])
        for step in BY_CODE.values()
        if step.code in found
    }


def out_of_order(row: Step, missing: dict[str, tuple[str, ...]]) -> ShopError:
    """Return the question: what is missing, and the two answers, in the words of the floor."""
    steps = [say(code) for code in missing]
    already = " and ".join(filter(None, (", ".join(steps[:-1]), steps[-1])))
    return ShopError(
        "out_of_order",
        " ".join(_say_missing(code, targets) for code, targets in missing.items()),
        f"Done already? Then say so, and it is written down with “{row.word}”. If not, do it first.",
        facts={
            "missing": {code: list(targets) for code, targets in missing.items()},
            "yes": f"{already.capitalize()} already",
            "no": "Not yet",
        },
    )


def _say_missing(code: str, targets: tuple[str, ...]) -> str:
    """Say it of the pieces: ``Leg B has no groove.``"""
    marks = sorted({piece_of(target) for target in targets if target})
    if not marks:
        return f"It is not {say(code)}."
    where = " and ".join(f"leg {mark}" if mark in LEGS else f"piece {mark}" for mark in marks)
    several = len(marks) > 1
    verb = ("have" if several else "has") if code in NOUNS else ("are" if several else "is")
    return f"{where[0].upper()}{where[1:]} {verb} {f'no {NOUNS[code]}' if code in NOUNS else f'not {say(code)}'}."
