"""The stamps of every build, from rows and events, as the turnaround figures read them."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime
from typing import Any, NamedTuple

from django.db.models import Case, Exists, JSONField, OuterRef, Q, When

from spools.flow.steps import BY_CODE
from spools.models import Event, Spool
from spools.queries.promise_scope import Scope
from spools.queries.where import whose_move
from spools.turnaround.facts import HoldSpan, SpoolFacts, StepDone

FAULTS = frozenset({"rejected", "wrong_cut", "misfit", "missing", "damaged", "coating_bad"})
TOLD = FAULTS | {"held", "let_go", "undone"}  # what these say besides themselves is read
ENDED = frozenset({"scrapped", "superseded"})
READ = (
    *("id", "build", "clock_start_at", "due_at", "next_step", "standing", "route", "accepted_at", "coating_out_at"),
    *("coating_back_at", "delivered_at", "tie_in__mark", "reading__received_at", "reading__taken_at"),
    *("reading__revision", "reading__set_points__jig__serial"),
)


class Happened(NamedTuple):
    """What a figure needs of one event: whole rows would be most of the page's time."""

    spool_id: int
    number: int
    code: str
    done_at: datetime
    received_at: datetime
    undoes_id: int | None
    reason: str
    details: dict[str, Any]
    last_name: str
    username: str

    @property
    def by(self) -> str:
        """Who did it, by the name the floor uses."""
        return self.last_name or self.username


EVENT_READ = (*Happened._fields[:-3], "said", "person__last_name", "person__username")


def facts_of(scope: Scope, *, taps: bool) -> list[SpoolFacts]:
    """Return what is known of every build that a scope counts (two queries, neither reads what it leaves out).

    ``taps`` reads also who tapped each step and when the tap came: most events are that, and no list needs them.
    """
    spools = list(_builds(scope).select_related("tie_in", "reading__set_points__jig").only(*READ))
    events: dict[int, list[Happened]] = defaultdict(list)
    rows = Event.objects.filter(spool_id__in=[spool.id for spool in spools]).order_by("spool_id", "number")
    rows = rows.filter(code__in=TOLD | ENDED | (BY_CODE.keys() if taps else set()))
    said = Case(When(code__in=TOLD, then="details"), default=None, output_field=JSONField())
    for row in rows.annotate(said=said).values_list(*EVENT_READ):
        event = Happened._make(row)
        events[event.spool_id].append(event)
    return [facts_of_spool(spool, events[spool.id]) for spool in spools]


def _builds(scope: Scope) -> Any:
    """Return the builds that count; a tie-in all of whose builds have ended is open work, however old."""
    builds = Spool.objects.filter(tie_in__job__in=scope.job_ids).order_by("id")
    if scope.since is None:
        return builds
    live = Spool.objects.filter(tie_in=OuterRef("tie_in"), live=True)
    not_on_site = Q(live=True, delivered_at=None) | (Q(live=False) & ~Exists(live))
    return builds.filter(Q(due_at__gte=scope.since) | not_on_site)


def facts_of_spool(spool: Spool, events: Sequence[Happened]) -> SpoolFacts:
    """Return what is known of one build."""
    undone = {event.details["undoes_number"] for event in events if event.undoes_id}
    counted = [event for event in events if event.number not in undone and not event.undoes_id]
    standing = spool.the_standing
    ended = next((event.done_at for event in counted if event.code in ENDED), None)
    faults = [event for event in counted if event.code in FAULTS]
    return SpoolFacts(
        mark=spool.label,
        tie_in=str(spool.tie_in_id),
        received_at=spool.reading.received_at,
        taken_at=spool.reading.taken_at,
        clock_start_at=spool.clock_start_at,
        due_at=spool.due_at,
        accepted_at=spool.accepted_at,
        coating_out_at=spool.coating_out_at,
        coating_back_at=spool.coating_back_at,
        delivered_at=spool.delivered_at,
        scrapped_at=ended,
        needs_coating=bool(spool.route["coating"]),
        next_step=BY_CODE[spool.next_step].imperative.lower() if spool.next_step else "",
        whose_move=whose_move(spool),
        cause=_cause(counted, faults),
        jig=spool.reading.set_points.jig.serial,
        defects=len(faults),
        remeasured=spool.reading.revision > 1,
        holds=_holds(counted),
        steps=_steps(standing.reached, counted),
        number=spool.id,
    )


def _cause(counted: Sequence[Happened], faults: Sequence[Happened]) -> str:
    for event in faults:
        if event.details.get("cause"):
            return str(event.details["cause"])
    held = next((event for event in counted if event.code == "held"), None)
    return f"hold: {held.details.get('owner') or 'shop'}" if held else ""


def _holds(counted: Sequence[Happened]) -> tuple[HoldSpan, ...]:
    let_go = {event.details["hold"]: event.done_at for event in counted if event.code == "let_go"}
    return tuple(
        HoldSpan(
            since=event.done_at,
            until=let_go.get(event.number),
            reason=event.reason,
            owner=event.details.get("owner", ""),
            customer="customer" in event.details.get("owner", "").lower(),
        )
        for event in counted
        if event.code == "held"
    )


def _steps(reached: dict[str, str], counted: Sequence[Happened]) -> tuple[StepDone, ...]:
    told = {(event.code, event.done_at): event for event in reversed(counted)}  # of several at one moment the first
    steps = []
    for code, text in reached.items():
        at = datetime.fromisoformat(text)
        event = told.get((code, at))
        entered: dict[str, Any] = {"entered_at": event.received_at, "by": event.by} if event else {}
        steps.append(StepDone(BY_CODE[code].word, at, **entered))
    return tuple(sorted(steps, key=lambda step: step.done_at))
