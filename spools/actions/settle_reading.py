"""What a kept reading means for the shop: a spool, a stop, or a question."""

from datetime import datetime

from spools.actions.hold_spool import hold_spool
from spools.actions.release_spool import release_judged
from spools.actions.report_misfit import MISFIT_HOLD
from spools.actions.scrap_spool import supersede_spool
from spools.models import Person, Reading, Spool, TieIn
from spools.solving import Judged
from spools.transactions import part_key


def settle(tie_in: TieIn, reading: Reading, judged: Judged, *, person: Person, key: str, at: datetime) -> Spool | None:
    """Make a reading the tie-in's current one and follow it up, unless it only compares; within the caller's deed."""
    if reading.second_of_id and not _takes_over(tie_in, judged):
        _stop_if_it_differs(tie_in, reading, judged, person=person, key=key, at=at)
        return None
    make_current(tie_in, reading)
    return follow_up(tie_in, reading, judged, person=person, key=key, at=at)


def make_current(tie_in: TieIn, reading: Reading) -> None:
    """Let the tie-in be built from this reading from now on."""
    tie_in.current_reading = reading
    tie_in.save(update_fields=["current_reading"])


def follow_up(
    tie_in: TieIn,
    reading: Reading,
    judged: Judged,
    *,
    person: Person,
    key: str,
    at: datetime,
    because: str = "",
) -> Spool | None:
    """Release what closes; stop what the new reading overtakes. ``because`` is a decision's reason, kept with it."""
    live = Spool.objects.filter(tie_in=tie_in, live=True).first()
    if live is None:
        return (
            release_judged(
                reading=reading,
                judged=judged,
                person=person,
                key=part_key(key, "measured"),
                at=at,
                reason=because,
            )
            if judged.closes
            else None
        )
    reason = f"new reading {reading.letter}" + (f" ({because})" if because else "")
    misfits = any(hold.reason.startswith(MISFIT_HOLD) for hold in live.the_standing.holds)
    if misfits:
        reason += ": the one before did not fit"
    # Two bends from a survey have no check that closes: the foreman's own decision builds them anew.
    decided = reading.line is not None and bool(because) and judged.buildable
    if (judged.closes or decided) and (misfits or not live.the_standing.done.get("cut")):
        supersede_spool(spool_id=live.id, person=person, key=part_key(key, "superseded"), at=at, reason=reason)
        return release_judged(
            reading=reading, judged=judged, person=person, key=part_key(key, "measured"), at=at, replaces=live
        )
    _hold(live, f"{reason} after cutting began", person=person, key=key, at=at)
    return None


def _takes_over(tie_in: TieIn, judged: Judged) -> bool:
    """Tell whether a second reading is built from: it confirms a first one that nothing is built from yet."""
    confirms = any(finding.code == "confirms" for finding in judged.findings)
    return judged.closes and confirms and not Spool.objects.filter(tie_in=tie_in, live=True).exists()


def _stop_if_it_differs(
    tie_in: TieIn, reading: Reading, judged: Judged, *, person: Person, key: str, at: datetime
) -> None:
    live = Spool.objects.filter(tie_in=tie_in, live=True).first()
    if live and any(finding.code == "differs" for finding in judged.findings):
        _hold(live, f"second reading {reading.letter} differs from the first", person=person, key=key, at=at)


def _hold(live: Spool, reason: str, *, person: Person, key: str, at: datetime) -> None:
    hold_spool(
        spool_id=live.id, person=person, key=part_key(key, "held"), at=at, reason=reason, owner="foreman", as_shop=True
    )
