"""What the project manager's page says: the one-day promise, where it is lost, and when it will all be done."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta

from spools.flow.steps import STEPS
from spools.models import Person
from spools.queries.bench_stops import Lost, lost_since
from spools.queries.promise_scope import Scope, TieInCount, count_tie_ins, scope_of
from spools.queries.spool_facts import facts_of
from spools.shop_calendar import calendar_of
from spools.turnaround.aging import OpenSpool, TodayLine, aging, today_line
from spools.turnaround.backtest import backtest
from spools.turnaround.clocks import door_to_door
from spools.turnaround.dwell import StepDwell, dwell_by_step
from spools.turnaround.figures import DueWeek, LateCause, OnTime, ShopClock, late_by_cause, on_time, shop_clock
from spools.turnaround.forecast import Forecast, ForecastError, WorkLeft, forecast
from spools.turnaround.past import past_days, trips
from spools.turnaround.quality import JigRemeasured, RightWeek, first_time_right, remeasured_by_jig
from spools.turnaround.snapshot import Snapshot, snapshot
from spools.turnaround.survival import Spread, spread

SEED = 20260


@dataclass(frozen=True, slots=True)
class Counted:
    """The shop as known at a moment, and what of it counts: enough for the list behind a figure."""

    scope: Scope
    snapshot: Snapshot

    @property
    def at(self) -> datetime:
        """The moment."""
        return self.snapshot.at

    @property
    def rule(self) -> str:
        """What is counted, in words."""
        if self.scope.since is None:
            return f"Counted: {self.scope.which_jobs}, from its first reading to its last."
        since = self.snapshot.day_of(self.scope.since)
        return f"Counted: {self.scope.which_jobs}; what came due since {since:%a %-d %b %Y} or is not on site yet."


@dataclass(frozen=True, slots=True)
class WeekLine:
    """A due week with the bench stops that fell on the spools due in it, from the first one's start to its end.

    ``whole`` is no for a week so long ago that only what is not on site yet is counted of it.
    """

    week: DueWeek
    stops: tuple[Lost, ...]
    whole: bool


@dataclass(frozen=True, slots=True)
class Promise:
    """Every figure of the page, as of one moment."""

    at: datetime
    counted: Counted
    snapshot: Snapshot
    weeks: tuple[WeekLine, ...]
    stops: tuple[Lost, ...]
    on_time: OnTime
    clock: ShopClock
    today: TodayLine
    dwell: tuple[StepDwell, ...]
    aging: tuple[OpenSpool, ...]
    causes: tuple[LateCause, ...]
    right: tuple[RightWeek, ...]
    jigs: tuple[JigRemeasured, ...]
    door_to_door: Spread
    forecast: Forecast | None
    no_forecast: str
    backtest: str
    counts: dict[str, int]
    tie_ins: int
    left_out: int

    @property
    def missed(self) -> int:
        """How many of those due were not accepted in time."""
        return self.on_time.share.n - self.on_time.share.hits

    @property
    def sentence(self) -> str:
        """The one sentence that the page begins with."""
        share = self.on_time.share
        part = f"On time {share.say()}" if share.n else "Nothing is due yet"
        sure = next((date for date in (self.forecast.accepted if self.forecast else ()) if date.percent == 85), None)
        if sure and sure.day:
            return f"{part}; all accepted, 85 % sure, by {sure.day:%a %-d %b}."
        return f"{part}."


def counted_of(person: Person, *, at: datetime, job: int | None = None, taps: bool = False) -> Counted:
    """Return what counts as of a moment (four queries, however long the shop's history)."""
    calendar = calendar_of(person.the_shop)
    scope = scope_of(person, at=at, calendar=calendar, job_id=job)
    return Counted(scope, snapshot(facts_of(scope, taps=taps), at=at, calendar=calendar))


def promise_of(person: Person, *, at: datetime, job: int | None = None) -> Promise:
    """Work out every figure of the page as of a moment (six queries, whatever the number of spools)."""
    counted = counted_of(person, at=at, job=job, taps=True)
    scope, shop = counted.scope, counted.snapshot
    count, still_open = count_tie_ins(scope), aging(shop)
    kept = on_time(shop)
    stops = _stops(person, counted)
    found, why_not, tested = _forecast(shop, count.all - count.left_out)
    return Promise(
        at=at,
        counted=counted,
        snapshot=shop,
        weeks=tuple(_week_line(week, counted, stops) for week in kept.by_week),
        stops=stops,
        on_time=kept,
        clock=shop_clock(shop),
        today=today_line(shop, still_open),
        dwell=dwell_by_step(shop, steps=tuple(step.word for step in STEPS)),
        aging=still_open,
        causes=late_by_cause(shop),
        right=first_time_right(shop),
        jigs=remeasured_by_jig(shop),
        door_to_door=_door_to_door(shop),
        forecast=found,
        no_forecast=why_not,
        backtest=tested,
        counts=_counts(shop, count),
        tie_ins=count.all,
        left_out=count.left_out,
    )


def _stops(person: Person, counted: Counted) -> tuple[Lost, ...]:
    """Return the stops since the oldest spool that counts was received, newest first."""
    shop = counted.snapshot
    first = counted.scope.since or min((spool.received_at for spool in shop.spools), default=shop.at)
    return tuple(lost_since(person, since=first, at=shop.at, calendar=shop.calendar))


def _week_line(week: DueWeek, counted: Counted, stops: tuple[Lost, ...]) -> WeekLine:
    shop = counted.snapshot
    begin = shop.calendar.moment(week.monday, time(0))
    end = shop.calendar.moment(week.monday + timedelta(days=7), time(0))
    due = [spool for spool in shop.spools if spool.due_at and begin <= spool.due_at < end]
    first = min(spool.clock_start_at or spool.received_at for spool in due)
    last = min(shop.at, max(spool.due_at for spool in due if spool.due_at))
    whole = counted.scope.counts(max(spool.due_at for spool in due if spool.due_at))
    return WeekLine(week, tuple(lost for lost in stops if lost.overlaps(first, last)), whole)


def _forecast(shop: Snapshot, tie_ins: int) -> tuple[Forecast | None, str, str]:
    history = past_days(shop)
    measured = len(shop.spools)
    accepted = sum(spool.accepted_at is not None for spool in shop.spools)
    work = WorkLeft(not_measured=max(tie_ins - measured, 0), in_shop=measured - accepted, trips=trips(shop))
    try:
        found = forecast(work, history=history, at=shop.at, calendar=shop.calendar, seed=SEED)
    except ForecastError as missing:
        return None, str(missing), ""
    return found, "", backtest(history, tie_ins=tie_ins, calendar=shop.calendar, seed=SEED).say()


def _door_to_door(shop: Snapshot) -> Spread:
    days = [door_to_door(spool, at=shop.at) for spool in shop.spools]
    return spread([one.amount for one in days if one is not None and not one.running])


def _counts(shop: Snapshot, tie_ins: TieInCount) -> dict[str, int]:
    spools = shop.spools
    delivered = sum(s.delivered_at is not None for s in spools)
    back = sum(s.delivered_at is None and s.coating_back_at is not None for s in spools)
    out = sum(s.coating_out_at is not None and s.coating_back_at is None and s.delivered_at is None for s in spools)
    accepted = sum(s.accepted_at is not None for s in spools)
    return {
        "tie_ins": tie_ins.all,
        "not_measured": tie_ins.all - tie_ins.left_out - len(spools),
        "measured": len(spools) + tie_ins.left_out,
        "in_shop": len(spools) - accepted,
        "ready": accepted - out - back - delivered,
        "at_coating": out,
        "yard": back,
        "delivered": delivered + tie_ins.left_out,
    }
