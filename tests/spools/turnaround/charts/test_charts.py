"""Every chart of a whole month, of thin data and of odd data: readable, and its words equal the figures."""

from dataclasses import replace

import pytest

from geometry.drawing.shapes import Arc, Drawing, Polyline
from geometry.drawing.svg import to_svg
from spools.turnaround.aging import aging
from spools.turnaround.charts.aging_bars import aging_bars
from spools.turnaround.charts.dots import DayNote, dots_by_day
from spools.turnaround.charts.dwell_bars import dwell_bars
from spools.turnaround.charts.finish_fan import finish_fan
from spools.turnaround.charts.flow_lines import flow_lines
from spools.turnaround.charts.histogram import shop_clock_histogram
from spools.turnaround.charts.on_time_bars import on_time_bars
from spools.turnaround.dwell import StepDwell, dwell_by_step
from spools.turnaround.figures import on_time, shop_clock
from spools.turnaround.forecast import WorkLeft, forecast
from spools.turnaround.past import past_days, trips
from spools.turnaround.snapshot import Snapshot, snapshot
from spools.turnaround.survival import spread
from spools.turnaround.wip import daily_flow
from tests.spools.turnaround.a_month import CALENDAR, NOW, STAGES, TIE_INS, month
from tests.spools.turnaround.a_shop import day, seen, spool
from tests.spools.turnaround.charts.readable import assert_readable, words

NOTES = (DayNote(day("2026-10-29"), "groover down"), DayNote(day("2026-11-12"), "after the holiday"))
FIRST, LAST = day("2026-10-21"), day("2026-11-20")


def charts(shop: Snapshot, *, width_mm: float = 180.0) -> dict[str, Drawing]:
    flow = daily_flow(shop, stages=STAGES, first=FIRST, last=LAST)
    return {
        "histogram": shop_clock_histogram(shop_clock(shop), promise_h=8.5, width_mm=width_mm),
        "dots": dots_by_day(shop, promise_h=8.5, notes=NOTES, width_mm=width_mm),
        "dwell": dwell_bars(dwell_by_step(shop, steps=STAGES[1:6]), width_mm=width_mm),
        "flow": flow_lines(flow, stages=STAGES, notes=NOTES, width_mm=width_mm),
        "on time": on_time_bars(on_time(shop), width_mm=width_mm),
        "aging": aging_bars(aging(shop), promise_h=8.5, width_mm=width_mm),
    }


def month_shop(*, seed: int = 8, first: int = 0, last: int = 248) -> Snapshot:
    return snapshot(month(seed=seed)[first:last], at=NOW, calendar=CALENDAR)


@pytest.mark.parametrize("name", ["histogram", "dots", "dwell", "flow", "on time", "aging"])
@pytest.mark.parametrize("seed", [8, 21, 34])
@pytest.mark.parametrize("width_mm", [150.0, 190.0])
def test_a_month_is_readable(name: str, seed: int, width_mm: float):
    assert_readable(charts(month_shop(seed=seed), width_mm=width_mm)[name])


@pytest.mark.parametrize("name", ["histogram", "dots", "dwell", "flow", "on time", "aging"])
@pytest.mark.parametrize("count", [0, 1, 2, 12])
def test_thin_data_is_readable(name: str, count: int):
    assert_readable(charts(month_shop(last=count))[name])


@pytest.mark.parametrize("name", ["histogram", "dots", "dwell", "flow", "on time", "aging"])
def test_a_spool_forgotten_for_weeks_leaves_the_rest_readable(name: str):
    forgotten = replace(month()[0], accepted_at=None, delivered_at=None, steps=(), next_step="cut", whose_move="cutter")
    shop = snapshot((forgotten, *month()[1:]), at=NOW, calendar=CALENDAR)
    assert_readable(charts(shop)[name])


def test_the_finish_fan_is_readable_and_says_its_dates():
    shop = month_shop()
    accepted = sum(spool.accepted_at is not None for spool in shop.spools)
    work = WorkLeft(TIE_INS - len(shop.spools), len(shop.spools) - accepted, trips(shop))
    found = forecast(work, history=past_days(shop), at=NOW, calendar=CALENDAR, seed=4711, runs=500)
    drawing = finish_fan(found, past=past_days(shop), tie_ins=TIE_INS)
    assert_readable(drawing)
    assert sum("% sure" in said for said in words(drawing)) == 3
    assert any("seed 4711" in said for said in words(drawing))


def test_one_day_left_makes_a_readable_fan():
    shop = month_shop()
    found = forecast(WorkLeft(0, 1), history=past_days(shop), at=NOW, calendar=CALENDAR, seed=1, runs=100)
    assert_readable(finish_fan(found, past=past_days(shop), tie_ins=TIE_INS))


def test_the_dots_are_as_many_as_the_accepted_spools_and_the_diamonds_as_the_late_ones():
    shop = month_shop()
    drawing = dots_by_day(shop, promise_h=8.5)
    found = on_time(shop)
    rings = sum(isinstance(shape, Arc) for shape in drawing.shapes)
    diamonds = sum(isinstance(shape, Polyline) and shape.closed and shape.style == "ink" for shape in drawing.shapes)
    late_and_accepted = found.share.n - found.share.hits - len(found.open_late)
    assert rings + diamonds == sum(spool.accepted_at is not None for spool in shop.spools)
    assert diamonds == late_and_accepted


def test_days_before_the_window_are_not_among_the_dots():
    shop = month_shop()
    later = dots_by_day(shop, promise_h=8.5, since=day("2026-11-09"))
    dots = sum(isinstance(shape, Arc) for shape in later.shapes) + sum(
        isinstance(shape, Polyline) and shape.closed and shape.style == "ink" for shape in later.shapes
    )
    wanted = [s for s in shop.spools if s.accepted_at and shop.day_of(s.accepted_at) >= day("2026-11-09")]
    assert dots == len(wanted) > 0


def test_each_week_of_dots_leads_to_its_monday_and_the_stretches_do_not_overlap():
    places = dots_by_day(month_shop(), promise_h=8.5, lead=lambda monday: f"/{monday}").places
    assert [place.address for place in places] == [f"/2026-{d}" for d in ("10-19", "10-26", "11-02", "11-09", "11-16")]
    ends = [place.x_mm + place.width_mm for place in places]
    assert all(end <= after.x_mm + 1e-9 for end, after in zip(ends, places[1:], strict=False))


def test_each_due_week_leads_to_its_monday():
    found = on_time(month_shop())
    places = on_time_bars(found, lead=lambda monday: f"/{monday}").places
    assert [place.address for place in places] == [f"/{week.monday}" for week in found.by_week]


def test_the_finish_fan_counts_days_before_the_window_and_does_not_draw_them():
    shop = month_shop()
    past, since = past_days(shop), day("2026-11-09")
    work = WorkLeft(TIE_INS - 248, sum(s.accepted_at is None for s in shop.spools), trips(shop))
    found = forecast(work, history=past, at=NOW, calendar=CALENDAR, seed=1, runs=200)
    whole, cut = (finish_fan(found, past=past, tie_ins=TIE_INS, since=s) for s in (None, since))
    path = next(shape for shape in cut.shapes if isinstance(shape, Polyline) and shape.style == "edge")
    assert len(path.points) == sum(row.day >= since for row in past)
    assert [said for said in words(whole) if "sure" in said] == [said for said in words(cut) if "sure" in said]


def test_a_step_that_no_spool_needed_is_not_drawn():
    drawn = words(dwell_bars(dwell_by_step(month_shop(), steps=("cut", "threaded", "welded"))))
    assert "cut" in drawn
    assert "threaded" not in drawn


def test_a_step_of_which_no_stay_is_told_is_said_under_the_chart():
    told = dwell_by_step(month_shop(), steps=("cut",))[0]
    nothing = spread([])
    untold = StepDwell("back", nothing, nothing, nothing, left_out=31, waiting_now=0, waiting_now_h=0.0)
    assert any("no stay is told: back 31" in said for said in words(dwell_bars([told, untold])))


def test_the_histograms_bars_add_up_to_all_started_spools():
    clock = shop_clock(month_shop())
    drawing = shop_clock_histogram(clock, promise_h=8.5)
    bars = [shape for shape in drawing.shapes if isinstance(shape, Polyline) and shape.closed]
    per_spool = _height(max(bars, key=_height)) / max(_bin_counts(clock.finished_h))
    assert sum(map(_height, bars)) / per_spool == pytest.approx(clock.curve.n)


def test_what_lies_beyond_the_last_bar_stands_in_it_and_is_said():
    done = [spool(str(n), start="2026-11-02 08:00", accepted="2026-11-02 12:00") for n in range(40)]
    forgotten = spool("forgotten", start="2026-10-05 08:00")
    drawing = shop_clock_histogram(shop_clock(seen(*done, forgotten, at="2026-11-06 12:00")), promise_h=8.5)
    last = max(shape.points[1][0] for shape in drawing.shapes if isinstance(shape, Polyline) and shape.closed)
    assert last == pytest.approx(drawing.width_mm - 8.0 - 0.2)
    assert any("1 beyond" in said for said in words(drawing))


def _height(bar: Polyline) -> float:
    ups = [y for _, y in bar.points]
    return max(ups) - min(ups)


def _bin_counts(hours: tuple[float, ...]) -> list[int]:
    return [sum(int(value) == whole for value in hours) for whole in range(int(max(hours)) + 1)]


def test_an_unknown_percentile_is_said_not_drawn():
    done = [spool(str(n), start="2026-11-02 08:00", accepted="2026-11-02 12:00") for n in range(4)]
    still_open = [spool(str(n), start="2026-11-02 08:00") for n in range(4, 8)]
    drawing = shop_clock_histogram(shop_clock(seen(*done, *still_open, at="2026-11-06 12:00")), promise_h=8.5)
    assert any("P85 and P95 not known yet: too much is open" in said for said in words(drawing))
    assert not any(said.startswith("P95 ") for said in words(drawing))


def test_on_time_says_counts_only_under_twenty():
    few = on_time_bars(on_time(month_shop(last=12)))
    assert not any("%" in said for said in words(few))
    assert any("%" in said for said in words(on_time_bars(on_time(month_shop()))))


def test_the_aging_chart_says_how_many_more_are_open():
    still_open = [
        spool(str(n), start="2026-11-02 08:00", due="2026-11-03 08:00", whose_move="fitter") for n in range(23)
    ]
    drawing = aging_bars(aging(seen(*still_open, at="2026-11-06 12:00")), promise_h=8.5)
    assert any("10 oldest of n = 23 open" in said for said in words(drawing))
    assert sum("up to fitter" in said for said in words(drawing)) == 10


def test_every_chart_becomes_an_svg_with_its_title():
    for drawing in charts(month_shop()).values():
        assert f"<title>{drawing.title}</title>".replace("'", "&apos;") in to_svg(drawing).replace("'", "&apos;")
