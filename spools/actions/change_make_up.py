"""How one tie-in is made: its turn, its ends, and what the ends need to know. The foreman's word, at any time."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from spools.actions.settle_reading import follow_up
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Person, Spool, TieIn
from spools.solving import BOUGHT
from spools.stored_readings import judge_stored
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN})
BEND_OPTIONS = frozenset({"radius", "welds", "bend_radius_mm", "source", "miters_allowed"})
END_OPTIONS = frozenset(BOUGHT) | {"coupling", "field_trim_mm", "included_deg", "offset_mm", "seat"}


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeUp:
    """How it is to be made. ``bend_options`` are fields of ``BendChoice``; ``end_options`` go by side, ``a`` and ``b``.

    Of an end: ``coupling`` (flexible or rigid), ``field_trim_mm``; of a saddle ``included_deg`` between the branch and
    the main, ``offset_mm`` from the main's center line, ``seat`` (set-on or set-in); of a flange ``flange_class``;
    and what is bought has where the tables don't say it: a weld-neck's ``flange_length_mm`` from face to bevel, a
    slip-on's ``flange_setback_mm``, a coupling's ``coupling_gap_mm``, a threaded fitting's ``fitting_face_mm``.
    """

    bend_kind: str
    end_a: str
    end_b: str
    bend_options: Mapping[str, Any] = field(default_factory=dict)
    end_options: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)


@all_or_nothing
def change_make_up(
    *, tie_in_id: int, made: MakeUp, person: Person, key: str, at: datetime, reason: str
) -> tuple[TieIn, Spool | None]:
    """Change how a tie-in is made; what is built from it is built anew, or held where it is cut already.

    Returns the tie-in, and the new spool where one was released.
    Raises ``ShopError``: not_your_role, not_found, invalid, not_buildable (nothing is changed then).
    """
    if not person.may(WHO):
        raise not_your_role("Change how it is made", say_roles(WHO))
    tie_in = (
        TieIn.objects.for_person(person)
        .select_for_update(of=("self",))
        .select_related("job__shop", "main")
        .filter(id=tie_in_id)
        .first()
    )
    if tie_in is None:
        raise not_found("tie-in of that number")
    _check(made, reason, tie_in)
    if _is_made_so(tie_in, made):
        return tie_in, None
    tie_in.bend_kind, tie_in.bend_options = made.bend_kind, dict(made.bend_options)
    tie_in.end_a, tie_in.end_b = made.end_a, made.end_b
    tie_in.end_options = {side: dict(options) for side, options in made.end_options.items() if options}
    for side in ("a", "b"):
        _measured_to(tie_in, side)
    tie_in.save()
    return tie_in, _built_anew(tie_in, person=person, key=key, at=at, reason=reason.strip())


def _check(made: MakeUp, reason: str, tie_in: TieIn) -> None:
    trouble: dict[str, str] = {}
    preps = {end.code for end in END_PREPS}
    if made.bend_kind not in {make_up.code for make_up in MAKE_UPS} or set(made.bend_options) - BEND_OPTIONS:
        trouble["bend"] = "Choose one of the make-ups shown."
    for side in ("a", "b"):
        if getattr(made, f"end_{side}") not in preps or set(made.end_options.get(side, {})) - END_OPTIONS:
            trouble[f"end_{side}"] = "Choose one of the ends shown."
    if made.end_b == "saddle":
        trouble["end_b"] = "A saddle sits on the main: it is the end at the main."
    if made.end_a == "saddle" and made.end_options.get("a", {}).get("included_deg") is None:
        trouble["included"] = f"Type the included angle between the branch and {tie_in.main}."
    if not reason.strip():
        trouble["reason"] = "Say why it is made so."
    if trouble:
        raise invalid(trouble)


def _is_made_so(tie_in: TieIn, made: MakeUp) -> bool:
    ends = {side: dict(options) for side, options in made.end_options.items() if options}
    now = (tie_in.bend_kind, tie_in.bend_options, tie_in.end_a, tie_in.end_b, tie_in.end_options)
    return now == (made.bend_kind, dict(made.bend_options), made.end_a, made.end_b, ends)


def _measured_to(tie_in: TieIn, side: str) -> None:
    """Keep what the leg is measured to where the new end has it; else the end's own first one is asked for next."""
    accepted = next(end.measured_to for end in END_PREPS if end.code == getattr(tie_in, f"end_{side}"))
    if getattr(tie_in, f"measured_to_{side}") not in accepted:
        setattr(tie_in, f"measured_to_{side}", accepted[0])


def _built_anew(tie_in: TieIn, *, person: Person, key: str, at: datetime, reason: str) -> Spool | None:
    reading = tie_in.current_reading
    if reading is None:
        return None
    reading.tie_in = tie_in
    judged = judge_stored(reading)
    if judged.request is not None and not judged.buildable:
        words = judged.trouble or "It can't be built so."
        raise ShopError("not_buildable", words, "Choose another make-up, or measure again.", status=422)
    because = f"made as {tie_in.bend_kind.replace('_', ' ')}: {reason}"[:200]
    return follow_up(tie_in, reading, judged, person=person, key=key, at=at, because=because)
