"""What is left to the foreman to decide, the most urgent first: the tray on his floor, and the whole of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Exists, F, OuterRef, QuerySet
from django.urls import reverse

from spools.models import Event, JigCheck, Obstacle, Person, Reading, Shop, Spool, TieIn
from spools.queries.doubtful import IN_TRAY, doubtful_to_sort
from spools.queries.field import waiting_readings
from spools.queries.obstacles import obstacles_of
from spools.queries.told_twice import told_twice

MOST = 60
SECOND_READING = "second reading"  # how the hold begins that a reading which differs sets
PAPER_SHOWN = timedelta(days=14)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDecide:
    """One thing to decide: what it is of, in words, and its one action, a page to open or a deed to press.

    ``picks`` are the deed's choices as (code, words); a deed without any is pressed as it is.
    """

    row: str
    version: str
    mark: str
    words: str
    action: str
    url: str
    deed: str = ""
    spool_id: int = 0
    hold: int = 0
    picks: tuple[tuple[str, str], ...] = ()


def to_decide(person: Person, held: Iterable[Spool], *, not_back: int, at: datetime) -> list[ToDecide]:
    """Return everything to decide; ``held`` are the spools on hold (two queries on a day when nothing is wrong)."""
    spools = list(held)
    jigs, obstacles, papers = _which(person, at=at)
    return [
        *_told_twice(spools),
        *(_papers(person, at=at) if papers else ()),
        *(_doubtful(person, at=at) if jigs else ()),
        *_not_back(not_back),
        *_differing(spools),
        *_readings(person, {spool.tie_in_id: spool for spool in spools}),
        *(_obstacles(person) if obstacles else ()),
    ]


def _which(person: Person, *, at: datetime) -> tuple[bool, bool, bool]:
    """Tell whether any check failed lately, any place can't be measured, any old paper was met (one query)."""
    failed = JigCheck.objects.filter(jig__shop_id=person.the_shop_id, passed=False, at__gte=at - IN_TRAY)
    in_the_way = Obstacle.objects.standing().filter(tie_in__job__shop_id=person.the_shop_id, tie_in__job__is_open=True)
    shops = Shop.objects.filter(id=person.the_shop_id)
    flags = shops.values_list(Exists(failed), Exists(in_the_way), Exists(_papers_met(person, at=at))).get()
    return bool(flags[0]), bool(flags[1]), bool(flags[2])


def _papers_met(person: Person, *, at: datetime) -> QuerySet[Event]:
    """Return where old paper was met lately and hasn't been taken away since."""
    gone = Event.objects.filter(spool_id=OuterRef("spool_id"), code="paper_gone", number__gt=OuterRef("number"))
    met = Event.objects.filter(code="old_paper", received_at__gte=at - PAPER_SHOWN, spool__shop_id=person.the_shop_id)
    return met.filter(~Exists(gone), undone_by=None)


def _told_twice(spools: list[Spool]) -> list[ToDecide]:
    return [
        ToDecide(
            row=f"twice-{one.spool.id}-{one.hold}",
            version=str(one.spool.last_number),
            mark=one.spool.label,
            words=f"{one.words}." + (" Whose word counts?" if one.both else " Undo the one that is wrong."),
            action="Look",
            url=reverse("spool", args=[one.spool.id]),
            deed="told" if one.both else "",
            spool_id=one.spool.id,
            hold=one.hold,
            picks=tuple(zip(("first", "second"), (f"It is {words}" for words in one.both), strict=False)),
        )
        for one in told_twice(spools)
    ]


def _papers(person: Person, *, at: datetime) -> list[ToDecide]:
    met = _papers_met(person, at=at).select_related("spool__tie_in", "person").defer("spool__solution")
    newest = {event.spool_id: event for event in met.order_by("received_at")[:MOST]}
    zone = person.the_shop.zone
    return [
        ToDecide(
            row=f"paper-{event.spool_id}",
            version=str(event.number),
            mark=event.spool.label,
            words=f"old paper is still about: it stopped {event.person.short_name}"
            f" {event.done_at.astimezone(zone):%a %-d %b %H:%M}, {event.reason}. Take it away.",
            action="The paper is gone",
            url=reverse("spool", args=[event.spool_id]),
            deed="paper_gone",
            spool_id=event.spool_id,
        )
        for event in reversed(newest.values())
    ]


def _doubtful(person: Person, *, at: datetime) -> list[ToDecide]:
    zone = person.the_shop.zone
    return [
        ToDecide(
            row=f"doubtful-{one.check.id}",
            version=str(one.open_count),
            mark=f"Jig {one.check.jig}",
            words=f"out of check {one.check.at.astimezone(zone):%a %-d %b %H:%M} by {one.check.included_off_deg:+.2g}°:"
            f" {one.open_count} {_of(one.open_count, 'spool')} built on doubtful readings, not on hold",
            action="Hold them",
            url=reverse("doubtful"),
        )
        for one in doubtful_to_sort(person, at=at)
    ]


def _not_back(count: int) -> list[ToDecide]:
    if not count:
        return []
    words = f"{count} {_of(count, 'spool')} missing at the galvanizer, or not back after the day"
    return [
        ToDecide(
            row="not-back",
            version=str(count),
            mark="Loads",
            words=words,
            action="Look at the loads",
            url=reverse("loads"),
        )
    ]


def _differing(spools: list[Spool]) -> list[ToDecide]:
    """Return the spools that a second reading stopped, each with that reading to look at."""
    stopped = {
        spool.tie_in_id: (spool, hold)
        for spool in spools
        for hold in spool.the_standing.holds
        if hold.reason.startswith(SECOND_READING)
    }
    if not stopped:
        return []
    second = dict(
        Reading.objects.filter(tie_in_id__in=stopped, second_of__isnull=False)
        .order_by("revision")
        .values_list("tie_in_id", "id")
    )
    return [
        ToDecide(
            row=f"differs-{spool.id}",
            version=str(spool.last_number),
            mark=spool.label,
            words=f"measured twice: {hold.reason}",
            action="Say which is right",
            url=reverse("reading", args=[second[tie_in_id]]),
        )
        for tie_in_id, (spool, hold) in stopped.items()
        if tie_in_id in second
    ]


def _readings(person: Person, on_hold: Mapping[int, Spool]) -> list[ToDecide]:
    # The sum keeps PostgreSQL from walking all readings in their order to find the few that wait.
    waiting = waiting_readings(person).order_by(F("current_reading_id") + 0)[:MOST]
    rows = [_reading(tie_in, on_hold.get(tie_in.id)) for tie_in in waiting]
    return sorted(rows, key=lambda one: one.row.startswith("odd"))


def _reading(tie_in: TieIn, stopped: Spool | None) -> ToDecide:
    reading = tie_in.current_reading
    assert reading is not None  # noqa: S101  what waits was read
    odd = any(finding["code"] == "odd_size" for finding in reading.findings)
    found = reading.findings[0]["text"] if reading.findings else ""
    by = f"reading {reading.letter} by {reading.taken_by}"
    if stopped:
        waits = f"{by} came after cutting began; {stopped.label}, built from an older one, is on hold"
        action = "Say which is built"
    else:
        waits = f"{by} waits for a decision" + (f": {found}" if found else "")
        action = "Say yes or no" if odd else "Release or measure again"
    return ToDecide(
        row=f"{'odd' if odd else 'tray'}-{tie_in.id}",
        version=str(reading.id),
        mark=tie_in.mark,
        words=waits,
        action=action,
        url=reverse("reading", args=[reading.id]),
    )


def _obstacles(person: Person) -> list[ToDecide]:
    zone = person.the_shop.zone
    return [
        ToDecide(
            row=f"obstacle-{one.id}",
            version=str(one.id),
            mark=one.tie_in.mark,
            words=f"can't be measured: {one.get_why_display()}"
            + (f", {one.note}" if one.note else "")
            + f", seen by {one.by} {one.seen_at.astimezone(zone):%a %-d %b %H:%M}",
            action="Clear it",
            url=reverse("obstacles"),
        )
        for one in obstacles_of(person)
    ]


def _of(count: int, noun: str) -> str:
    return noun if count == 1 else f"{noun}s"
