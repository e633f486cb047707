"""The turnaround report: the promise page's own figures and charts, on paper."""

from typing import BinaryIO

from cutlists.papers.heading import Printing, heading_for
from cutlists.sheets.frame import Paper
from cutlists.sheets.turnaround import ReportFigure, ReportTable, TurnaroundSheet, write_turnaround
from spools.models import Job
from spools.queries.promise import Promise
from spools.queries.promise_charts import charts_of
from spools.turnaround.aging import OpenSpool
from spools.turnaround.figures import NO_CAUSE
from spools.turnaround.forecast import SureDate

ON_PAPER = ("on_time", "dots", "finish", "dwell")  # in this order: the first three fill the first page
CHART_MM = 57.0
MOST_LATE = 10
DEFINITIONS = (
    "On time: of all spools whose due time has passed, the share accepted by then. Open late ones count as misses.",
    "Due: the same clock time on the next working day; received after the cut-off counts from the next shift.",
    "Shop clock: working hours from the reading's receipt (closing, or released by name) to accepted.",
    "Door to door: calendar days from the reading in the field to the receipt on site. It includes coating.",
    "A hold does not stop the clock. A replacement inherits the start of what it replaces.",
    "Ranges are Wilson's 95 % interval; under 20 spools counts are printed, not percent.",
)


def write_report(out: BinaryIO, promise: Promise, printing: Printing, *, paper: Paper, job: Job | None = None) -> int:
    """Write the report; returns the pages."""
    shop = printing.person.the_shop
    clock, share, charts = promise.clock, promise.on_time.share, charts_of(promise, height_mm=CHART_MM)
    counted = [one for one in promise.counted.scope.jobs if one.is_open]
    job = job or (counted[0] if len(counted) == 1 else None)
    sheet = TurnaroundSheet(
        heading=heading_for(printing, shop=shop, job=job),
        as_of=f"{promise.at.astimezone(shop.zone):%a %-d %b %Y %H:%M}. {promise.counted.rule}",
        sentence=promise.sentence,
        figures=(
            ReportFigure(value=f"{share.hits} of {share.n}", name="on time", note=share.say()),
            ReportFigure(
                value=_hours(clock.p50), name="shop clock, median", note=f"working hours, n = {clock.curve.n}"
            ),
            ReportFigure(
                value=_hours(clock.p90), name="shop clock, 90th percentile", note=f"working hours, n = {clock.curve.n}"
            ),
            ReportFigure(
                value=f"{promise.door_to_door.p50:.1f}" if promise.door_to_door.n else "none",
                name="door to door, median",
                note=f"calendar days, n = {promise.door_to_door.n}",
            ),
        ),
        charts=tuple(charts[name] for name in ON_PAPER if name in charts),
        tables=(_late(promise),),
        forecast=_forecast(promise),
        definitions=DEFINITIONS,
    )
    return write_turnaround(out, sheet, paper=paper)


def _hours(hours: float | None) -> str:
    return "not known yet" if hours is None else f"{hours:.1f} h"


def _late(promise: Promise) -> ReportTable:
    causes = {spool.mark: spool.cause for spool in promise.snapshot.spools}
    late = [spool for spool in promise.aging if spool.standing == "late"]
    rows = tuple(
        (spool.mark, causes.get(spool.mark) or NO_CAUSE, f"{spool.late_h:.0f}", _now(spool))
        for spool in late[:MOST_LATE]
    )
    shown = f"{len(late)}" if len(late) <= MOST_LATE else f"the {MOST_LATE} oldest of {len(late)}"
    return ReportTable(
        title=f"Open and late ({shown})",
        names=("mark", "cause", "h late", "whose move, and what is done"),
        figures=(False, False, True, False),
        rows=rows,
    )


def _now(spool: OpenSpool) -> str:
    return "; ".join(part for part in (spool.whose_move, spool.reason) if part)


def _causes(promise: Promise) -> tuple[str, ...]:
    """Return all the late ones by cause, accepted since or still open, on one line."""
    if not promise.causes:
        return ()
    said = (f"{late.cause}: {len(late.marks)}, {late.late_h:.0f} h" for late in promise.causes)
    return (f"Late by cause, spools and working hours, {promise.missed} in all: {'; '.join(said)}.",)


def _forecast(promise: Promise) -> tuple[str, ...]:
    if promise.forecast is None:
        return (promise.no_forecast, *_causes(promise))
    lines = [f"All accepted: {_dates(promise.forecast.accepted)}."]
    if promise.forecast.delivered:
        lines.append(f"All delivered: {_dates(promise.forecast.delivered)}.")
    return (*lines, f"{promise.forecast.say_basis()}.", f"Back-test: {promise.backtest}.", *_causes(promise))


def _dates(dates: tuple[SureDate, ...]) -> str:
    return ", ".join(
        f"{date.percent} % sure {f'{date.day:%a %-d %b}' if date.day else 'beyond sight'}" for date in dates
    )
