"""Record that a step of a spool's route is done."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from spools.actions.acceptance import as_printed, must_be_right
from spools.actions.out_of_order import missing_before, out_of_order
from spools.actions.told_twice import Told, dispute, key_of_dispute
from spools.errors import ShopError, not_your_role
from spools.flow.roles import say_roles
from spools.flow.routes import Route
from spools.flow.status import Standing
from spools.flow.steps import BY_CODE, Step, say
from spools.ledger import News, append, lock_spool
from spools.models import Event, Job, Person, Spool
from spools.queries.welds import made_here
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, fingerprint, part_key


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """What a tap brings.

    Empty ``targets`` means all that is left of the step; ``already`` answers an out-of-order question with yes.
    ``told_by`` is the name of somebody without an account, on the person's link.
    """

    targets: tuple[str, ...] = ()
    bench_id: int | None = None
    load_id: int | None = None
    heats: dict[str, int] = field(default_factory=dict)
    check_mm: float | None = None
    included_deg: float | None = None
    procedure: str = ""
    already: bool = False
    done_at: datetime | None = None
    reason: str = ""
    told_by: str = ""


@all_or_nothing
def record_step(
    *, spool_id: int, step: str, person: Person, key: str, at: datetime, tap: Tap | None = None
) -> Recorded:
    """Record a step and return its event; a repeated key, or a step that somebody recorded first, adds nothing.

    Raises ``ShopError``: not_found, not_your_role, ended, on_hold, not_on_route, out_of_order (with what is missing),
    same_person, check_missing, check_off, load_missing, key_reused.
    """
    row = BY_CODE.get(step)
    if row is None:
        raise ShopError("unknown_step", f"There is no step “{step}”.", "Choose one from the list.", status=404)
    tap = tap or Tap()
    if not person.may(row.who):
        raise not_your_role(row.imperative, say_roles(row.who))
    mark = _fingerprint(spool_id, step, tap)
    spool, earlier = lock_spool(spool_id=spool_id, person=person, key=key, fingerprint=mark)
    if earlier:
        return Recorded(earlier, spool, repeated=True)
    if not _is_disputed(spool, key):
        _may_go_on(spool)
    standing, route = spool.the_standing, spool.the_route
    targets = _targets(row, tap, standing, route)
    if not targets:
        return _somebody_was_first(spool, row, tap, at=at, person=person, key=key)
    _must_bring(row, tap, spool, standing, person)
    missing = missing_before(row, targets, standing, route)
    if missing:
        if not tap.already:
            raise out_of_order(row, missing)
        _write_missing(spool, missing, person=person, key=key, at=at, tap=tap)
    event = append(
        spool,
        News(
            code=row.code,
            person=person,
            key=key,
            fingerprint=mark,
            at=at,
            done_at=tap.done_at,
            targets=targets,
            bench_id=tap.bench_id or spool.bench_id,
            load_id=tap.load_id,
            reason=tap.reason,
            details=_details(row, tap, targets, spool, person),
        ),
    )
    return Recorded(event, spool)


def _fingerprint(spool_id: int, step: str, tap: Tap) -> str:
    later = [more for more in (tap.included_deg, tap.procedure) if more]  # a tap without them keeps its old mark
    return fingerprint(
        "step", spool_id, step, tap.targets, tap.bench_id, tap.load_id, tap.heats, tap.check_mm, tap.reason, *later
    )


def _is_disputed(spool: Spool, key: str) -> bool:
    """Tell whether this very tap set the hold, its answer having been lost on the way."""
    return bool(spool.hold_count) and spool.events.filter(key=key_of_dispute(key)).exists()


def _may_go_on(spool: Spool) -> None:
    standing = spool.the_standing
    if standing.ended:
        raise _old_paper(spool, standing.ended)
    if standing.holds:
        hold = standing.holds[-1]
        raise ShopError(
            "on_hold",
            f"On hold: {hold.reason}.",
            "Leave it where it is; the foreman lets it go.",
            facts={"hold": hold.number},
        )


def _old_paper(spool: Spool, ended: str) -> ShopError:
    """Refuse work on a build that has ended, naming what is made instead."""
    instead = Spool.objects.filter(tie_in_id=spool.tie_in_id, live=True).select_related("tie_in").first()
    words = f"OLD PAPER: {spool.tie_in.mark} build {spool.letter} was {say(ended)}."
    if instead is None:
        return ShopError("ended", words, "Stop. Nothing is made instead yet: ask the foreman.")
    facts = {"instead": instead.id}
    return ShopError("ended", words, f"Stop. {instead.label} is made instead: take its paper.", facts=facts)


def _targets(row: Step, tap: Tap, standing: Standing, route: Route) -> tuple[str, ...]:
    on_route = row.targets(route)
    if not on_route:
        raise ShopError("not_on_route", f"This spool doesn't need “{row.word}”.", "Nothing to do here.")
    unknown = [t for t in tap.targets if t not in on_route]
    if unknown:
        raise ShopError(
            "not_on_route",
            f"{', '.join(unknown)} is not on the route of “{row.word}”.",
            f"Choose from {', '.join(on_route) or 'the spool'}.",
        )
    wanted = tap.targets or on_route
    done = standing.done.get(row.code, ())
    return tuple(t for t in wanted if t not in done)


def _somebody_was_first(spool: Spool, row: Step, tap: Tap, *, at: datetime, person: Person, key: str) -> Recorded:
    events = list(spool.events.filter(code=row.code).select_related("person").order_by("-number"))
    wanted = set(tap.targets)
    event = next(e for e in events if not wanted or wanted & set(e.targets))
    local = event.done_at.astimezone(spool.shop.zone)
    today = local.date() == at.astimezone(spool.shop.zone).date()
    words = f"already {row.word} by {event.person.short_name} {local:{'%H:%M' if today else '%a %-d %b %H:%M'}}"
    told = Told(
        bench_id=tap.bench_id,
        check_mm=tap.check_mm,
        included_deg=tap.included_deg,
        procedure=tap.procedure,
        done_at=tap.done_at,
    )
    disputed = dispute(event, spool, told=told, person=person, key=key, at=at)
    return Recorded(event, spool, repeated=True, words=f"{words}; {disputed}" if disputed else words)


def _must_bring(row: Step, tap: Tap, spool: Spool, standing: Standing, person: Person) -> None:
    if "load" in row.requires and tap.load_id is None:
        raise ShopError(
            "load_missing", f"“{row.word}” happens on a load.", "Put the spool on a load first.", status=422
        )
    if "check" in row.requires:
        must_be_right(spool, check_mm=tap.check_mm, included_deg=tap.included_deg, reason=tap.reason)
    if set(row.other_person_than) & set(made_here(spool, person)):
        raise ShopError(
            "same_person",
            "The one who welded can't accept it.",
            "Ask another fitter or the foreman to look and measure.",
            status=403,
        )


def _write_missing(
    spool: Spool, missing: dict[str, tuple[str, ...]], *, person: Person, key: str, at: datetime, tap: Tap
) -> list[Event]:
    for code, targets in missing.items():
        step = BY_CODE[code]
        if not person.may(step.who) or step.requires:
            raise ShopError(
                "out_of_order",
                f"It is not {step.word} yet, and that is for the {say_roles(step.who)}.",
                "Have that recorded first.",
                facts={"missing": {code: list(targets)}},
            )
    return [
        append(
            spool,
            News(
                code=code,
                person=person,
                key=part_key(key, code),
                fingerprint=fingerprint("before", key, code),
                at=at,
                done_at=tap.done_at,
                targets=targets,
                bench_id=tap.bench_id or spool.bench_id,
                entered_later=True,
            ),
        )
        for code, targets in missing.items()
    ]


def _details(row: Step, tap: Tap, targets: tuple[str, ...], spool: Spool, person: Person) -> dict[str, Any]:
    details: dict[str, Any] = {}
    if row.code == "cut" and tap.heats:
        details["heats"] = {mark: heat for mark, heat in tap.heats.items() if mark in targets}
    if tap.check_mm is not None:
        details["check_mm"] = tap.check_mm
    if tap.told_by:
        details["told_by"] = tap.told_by
    if tap.included_deg is not None:
        details["included_deg"] = tap.included_deg
    if row.code == "accepted":
        details["print"] = as_printed(spool)
    if row.code == "welded":
        welds = range(1, spool.the_route.welds + 1)
        procedure = tap.procedure.strip()[:30] or _procedure_of_job(spool)
        details["welds"] = [[joint, person.id, procedure] for joint in welds]
    return details


def _procedure_of_job(spool: Spool) -> str:
    return Job.objects.filter(tie_ins=spool.tie_in_id).values_list("weld_procedure", flat=True).first() or ""
