"""The foreman chooses how two bends join a surveyed tie-in; what is chosen is released."""

from dataclasses import replace
from datetime import datetime

from spools.actions.bring_shots import typed_of_plan
from spools.actions.release_spool import WHO, release_spool
from spools.actions.take_reading import take_reading
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person, Reading, Spool
from spools.queries.lay_outs import code_of, plans_of_survey
from spools.transactions import all_or_nothing, part_key


@all_or_nothing
def lay_out(
    *, reading_id: int, code: str, person: Person, key: str, at: datetime, reason: str, instead: bool = False
) -> Spool:
    """Build a reading of two bends by another of its plans: that becomes a reading of its own, and its spool.

    ``instead`` ends a build that is still live. Raises ``ShopError``: not_your_role, not_found, invalid, not_newest,
    no_such_plan, and as ``release_spool`` does; then nothing is kept.
    """
    if not person.may(WHO):
        raise not_your_role("Lay a spool out", say_roles(WHO))
    if not reason.strip():
        raise invalid({"reason": "Say why it is laid out so."}, "A reason is missing.")
    mine = Reading.objects.for_person(person).select_related("tie_in__job", "tie_in__main")
    reading = mine.filter(id=reading_id).first()
    if reading is None or reading.line is None:
        raise not_found("reading of two bends of that number")
    taken = part_key(key, "laid out")
    known = Reading.objects.filter(key=taken).first()
    if known is None and reading.tie_in.current_reading_id != reading.id:
        raise ShopError("not_newest", "A newer reading of this tie-in is here.", "Lay out the newest one.")
    plan = next((plan for plan in plans_of_survey(reading.tie_in) if code_of(plan) == code), None)
    if plan is None:
        raise ShopError("no_such_plan", "This way is not among those that fit any more.", "Choose one of those shown.")
    laid = take_reading(
        tie_in_id=reading.tie_in_id,
        set_points_id=reading.set_points_id,
        typed=replace(typed_of_plan(plan), hand=reading.hand, up_mark=reading.up_mark),
        person=person,
        key=taken,
        at=at,
        keep_anyway=True,
        again=True,
    )
    return release_spool(
        reading_id=laid.reading.id, person=person, key=part_key(key, "released"), at=at, reason=reason, instead=instead
    )
