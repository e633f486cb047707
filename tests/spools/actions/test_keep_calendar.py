"""The calendar changes from today on; what is over stays as it was told, to the hour."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from spools.actions.keep_calendar import as_the_week, close_day, first_open_day, keep_week, work_day
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import ClosedDay, Shift, WorkedDay
from spools.shop_calendar import calendar_of
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, take

pytestmark = pytest.mark.django_db
EARLY, LATE = (time(6), time(14, 30)), (time(14, 30), time(23))
WEEK = [[EARLY]] * 5 + [[], []]
MONDAY, YESTERDAY, TODAY = date(2026, 11, 16), date(2026, 11, 23), date(2026, 11, 24)  # NOON is a Tuesday


@pytest.fixture
def shop():
    """Its first reading came nine days ago."""
    tie_in = make_tie_in(make_job(make_shop()))
    take(tie_in, at=NOON - timedelta(days=9))
    return tie_in.job.shop


@pytest.fixture
def manager(shop):
    return make_person(shop, Role.MANAGER)


def hours(shop, day: date) -> float:
    """The staffed hours of a day, as every figure counts them."""
    start = datetime.combine(day, time(0), shop.zone)
    return calendar_of(shop).working_hours(start.astimezone(UTC), (start + timedelta(days=1)).astimezone(UTC))


def refused(call, **fields):
    with pytest.raises(ShopError) as caught:
        call(**fields)
    return caught.value.code


def test_a_new_week_counts_from_today_and_changes_nothing_that_is_over(shop, manager):
    before = {day: hours(shop, day) for day in (MONDAY, YESTERDAY)}
    frozen = keep_week(by=manager, week=[[EARLY, LATE]] * 5 + [[EARLY], []], at=NOON)
    assert hours(shop, TODAY) == 17.0
    assert hours(shop, TODAY + timedelta(days=4)) == 8.5  # Saturday
    assert {day: hours(shop, day) for day in before} == before == {MONDAY: 8.5, YESTERDAY: 8.5}
    assert frozen == WorkedDay.objects.count() + ClosedDay.objects.count()


def test_a_saturday_without_a_shift_stays_without_one_when_the_week_gets_one(shop, manager):
    keep_week(by=manager, week=[[EARLY]] * 6 + [[]], at=NOON)
    assert hours(shop, date(2026, 11, 21)) == 0.0
    assert hours(shop, date(2026, 11, 28)) == 8.5


@pytest.mark.parametrize("day", [YESTERDAY, MONDAY])
def test_a_day_that_is_over_is_frozen(shop, manager, day):
    assert refused(close_day, by=manager, day=day, reason="storm", at=NOON) == "frozen"
    assert refused(work_day, by=manager, day=day, shifts=[EARLY], at=NOON) == "frozen"
    assert refused(as_the_week, by=manager, day=day, at=NOON) == "frozen"
    assert hours(shop, day) == 8.5


def test_the_day_ends_by_the_clock_on_the_shop_s_wall(shop, manager):
    still_monday = datetime(2026, 11, 24, 5, 59, tzinfo=UTC)  # 23:59 on Monday in Chicago
    assert first_open_day(shop, still_monday) == YESTERDAY
    close_day(by=manager, day=YESTERDAY, reason="storm", at=still_monday)
    assert hours(shop, YESTERDAY) == 0.0


def test_a_closed_day_and_an_overtime_saturday_count_and_can_be_taken_back(shop, manager):
    saturday = TODAY + timedelta(days=4)
    close_day(by=manager, day=TODAY, reason="Thanksgiving came early", at=NOON)
    work_day(by=manager, day=saturday, shifts=[(time(6), time(12))], at=NOON)
    assert (hours(shop, TODAY), hours(shop, saturday)) == (0.0, 6.0)
    for day in (TODAY, saturday):
        as_the_week(by=manager, day=day, at=NOON)
    assert (hours(shop, TODAY), hours(shop, saturday)) == (8.5, 0.0)


def test_due_times_already_given_stay(shop, manager):
    spool = shop.jobs.first().tie_ins.first().spools.first()
    due = spool.due_at
    close_day(by=manager, day=TODAY + timedelta(days=1), reason="storm", at=NOON)
    spool.refresh_from_db()
    assert spool.due_at == due


@pytest.mark.parametrize(
    "week",
    [
        [[]] * 7,
        [[EARLY, (time(14), time(22))], *WEEK[1:]],
        [[(time(6), time(6))], *WEEK[1:]],
    ],
    ids=["no shift at all", "two that overlap", "one without length"],
)
def test_a_week_that_can_not_be_is_refused_and_the_old_one_stays(shop, manager, week):
    assert refused(keep_week, by=manager, week=week, at=NOON) == "invalid"
    assert Shift.objects.filter(shop=shop).count() == 5


@pytest.mark.parametrize("role", [Role.FOREMAN, Role.FITTER])
def test_only_the_project_manager_keeps_it(shop, role):
    person = make_person(shop, role)
    assert refused(keep_week, by=person, week=WEEK, at=NOON) == "not_your_role"
    assert refused(close_day, by=person, day=TODAY, reason="storm", at=NOON) == "not_your_role"
