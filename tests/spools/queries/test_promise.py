"""What the promise counts: the open jobs and what came due lately; every figure is as long as its list."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Bench, BenchStop, Spool
from spools.queries.promise import counted_of, promise_of
from spools.queries.promise_charts import charts_of
from spools.queries.promise_lists import LISTS, Narrowed, behind, stopped_then
from spools.queries.promise_scope import WEEKS
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_spool

pytestmark = pytest.mark.django_db
DAY = timedelta(days=1)
AT = NOON + 2 * DAY  # a Thursday: what was received at NOON was due on Wednesday
OLD = timedelta(weeks=WEEKS + 2)


@pytest.fixture
def shop():
    return make_shop()


@pytest.fixture
def manager(shop):
    return make_person(shop, Role.MANAGER)


@pytest.fixture
def job(shop):
    return make_job(shop)


def spool(job, mark, *, earlier=timedelta(0), **columns):
    """A spool as if received at NOON or earlier, its projections set as told."""
    one = make_spool(mark, job=job)
    columns |= {"clock_start_at": one.clock_start_at - earlier, "due_at": one.due_at - earlier}
    Spool.objects.filter(id=one.id).update(**columns)
    return Spool.objects.get(id=one.id)


def on_site(job, mark, *, earlier=timedelta(0), late=timedelta(0)):
    accepted = NOON + timedelta(hours=4) + late - earlier
    stamps = {"accepted_at": accepted, "coating_out_at": accepted, "coating_back_at": accepted + DAY}
    return spool(job, mark, earlier=earlier, delivered_at=accepted + DAY, next_step="", **stamps)


def some_of_each(job):
    on_site(job, "1")
    on_site(job, "2", late=DAY)
    spool(job, "3", accepted_at=NOON + timedelta(hours=3))
    spool(job, "4")
    spool(job, "5", accepted_at=NOON + timedelta(hours=1), coating_out_at=NOON + DAY)
    make_tie_in(job, "6")


def told(promise):
    names = ("on_time", "clock", "today", "dwell", "aging", "causes", "right", "jigs", "door_to_door", "counts")
    return {name: getattr(promise, name) for name in names}


def rows_read(manager):
    with CaptureQueriesContext(connection) as seen:
        found = counted_of(manager, at=AT, taps=True)
    return len(seen), len(found.snapshot.spools)


def test_closed_jobs_change_no_figure_and_none_of_their_spools_is_read(shop, manager, job):
    some_of_each(job)
    before, read = told(promise_of(manager, at=AT)), rows_read(manager)
    closed = make_job(shop, is_open=False)
    for mark in ("1", "2", "3"):
        on_site(closed, mark, late=DAY)
    assert told(promise_of(manager, at=AT)) == before
    assert rows_read(manager) == read


def test_what_was_due_long_ago_and_is_on_site_is_only_counted_as_delivered(manager, job):
    some_of_each(job)
    before, read = told(promise_of(manager, at=AT)), rows_read(manager)
    on_site(job, "91", earlier=OLD)
    on_site(job, "92", earlier=OLD, late=DAY)
    found = promise_of(manager, at=AT)
    counts = before.pop("counts")
    assert found.counts == counts | {name: counts[name] + 2 for name in ("tie_ins", "measured", "delivered")}
    assert {name: told(found)[name] for name in before} == before
    assert found.left_out == 2
    assert rows_read(manager) == read


def test_what_was_due_long_ago_and_is_not_on_site_is_still_counted(manager, job):
    late = spool(job, "93", earlier=OLD)
    found = promise_of(manager, at=AT)
    assert found.on_time.open_late == (late.label,)
    assert [line.whole for line in found.weeks] == [False]


def test_a_tie_in_whose_builds_have_all_ended_is_still_counted_however_old(manager, job):
    spool(job, "94", earlier=OLD, live=False)
    assert len(promise_of(manager, at=AT).on_time.open_late) == 1


def test_an_old_build_whose_replacement_is_on_site_is_not_counted_as_open(manager, job):
    replaced = on_site(job, "95", earlier=OLD)
    Spool.objects.filter(id=replaced.id).update(build=2)
    replaced.pk, replaced.build, replaced.live, replaced.delivered_at = None, 1, False, None
    replaced.save()
    found = promise_of(manager, at=AT)
    assert (found.counts["in_shop"], found.left_out) == (0, 1)


def test_a_closed_job_that_is_asked_for_is_shown_whole(shop, manager):
    closed = make_job(shop, is_open=False)
    on_site(closed, "1", earlier=OLD)
    assert promise_of(manager, at=AT, job=closed.id).on_time.share.n == 1


def test_a_job_of_another_shop_is_not_found(manager):
    with pytest.raises(ShopError, match="There is no job"):
        promise_of(manager, at=AT, job=make_job(make_shop()).id)


def test_the_rule_is_said_in_words(manager, job):
    some_of_each(job)
    assert counted_of(manager, at=AT).rule == (
        "Counted: the one open job; what came due since Mon 3 Aug 2026 or is not on site yet."
    )


def test_lists_are_as_long_as_their_figures(manager, job):
    some_of_each(job)
    spool(job, "7", earlier=-2 * DAY, accepted_at=AT - timedelta(hours=1))  # accepted, and due only on Friday
    spool(job, "8", earlier=-2 * DAY)
    promise = promise_of(manager, at=AT)
    counted = counted_of(manager, at=AT)
    length = {which: len(behind(counted, which, Narrowed())) for which in LISTS}
    kept, counts, today = promise.on_time, promise.counts, promise.today
    assert length == {
        "due": kept.share.n,
        "on_time": kept.share.hits,
        "missed": promise.missed,
        "open_late": len(kept.open_late),
        "not_due": kept.not_yet_due,
        "today": len(today.due_today),
        "today_done": len(today.done),
        "at_risk": len(today.at_risk),
        "accepted": counts["measured"] - counts["in_shop"],
        "open": len(promise.aging),
        **{which: counts[which] for which in ("measured", "in_shop", "ready", "at_coating", "yard", "delivered")},
        "defects": sum(week.share.n - week.share.hits for week in promise.right),
        "remeasured": sum(jig.share.hits for jig in promise.jigs),
    }
    assert length["not_due"] == 2


def test_a_due_weeks_list_holds_that_weeks_spools(manager, job):
    some_of_each(job)
    on_site(job, "9", earlier=7 * DAY)
    promise, counted = promise_of(manager, at=AT), counted_of(manager, at=AT)
    lists = [behind(counted, "due", Narrowed(due_week=line.week.monday)) for line in promise.weeks]
    assert list(map(len, lists)) == [line.week.share.n for line in promise.weeks] == [1, 5]


def test_a_causes_list_holds_that_causes_spools(manager, job):
    some_of_each(job)
    counted = counted_of(manager, at=AT)
    for cause in promise_of(manager, at=AT).causes:
        assert len(behind(counted, "missed", Narrowed(cause=cause.cause))) == len(cause.marks) > 0


def a_stop(shop, down_at, hours=3):
    bench = Bench.objects.create(shop=shop, name="Groover")
    by = make_person(shop, Role.FOREMAN)
    return BenchStop.objects.create(
        bench=bench, reason="hydraulic pump", down_at=down_at, up_at=down_at + timedelta(hours=hours), by=by
    )


def test_a_due_week_says_which_bench_stood_while_its_spools_were_in_the_shop(shop, manager, job):
    some_of_each(job)
    on_site(job, "9", earlier=7 * DAY)
    a_stop(shop, NOON + timedelta(hours=1))
    before, then = promise_of(manager, at=AT).weeks
    assert [lost.short for lost in then.stops] == ["Groover down 3 h"]
    assert before.stops == ()


def test_a_weeks_list_says_what_was_stopped_and_another_list_asks_for_nothing(shop, manager, job):
    some_of_each(job)
    a_stop(shop, NOON + timedelta(hours=1))
    counted = counted_of(manager, at=AT)
    week = Narrowed(due_week=promise_of(manager, at=AT).weeks[0].week.monday)
    rows = behind(counted, "due", week)
    (lost,) = stopped_then(manager, counted, week, rows)
    assert (lost.stop.reason, lost.hours) == ("hydraulic pump", 3.0)
    assert stopped_then(manager, counted, Narrowed(), rows) is None


def test_a_stop_stands_in_the_chart_of_days(shop, manager, job):
    some_of_each(job)
    a_stop(shop, NOON + timedelta(hours=1))
    words = [shape.text for shape in charts_of(promise_of(manager, at=AT))["dots"].shapes if hasattr(shape, "text")]
    assert "Groover down 3 h" in words
