"""Change the shop's week, and single days that are closed or worked; days that are over stay as they were reported."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from django.db.models import Min

from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import ClosedDay, Person, Reading, Shift, Shop, WorkedDay
from spools.transactions import all_or_nothing

WHO = frozenset({Role.MANAGER})
Hours = tuple[time, time]
Week = Sequence[Sequence[Hours]]
ONE_DAY = timedelta(days=1)


def first_open_day(shop: Shop, at: datetime) -> date:
    """Return the first day that can still be changed: today, by the clock on the shop's wall."""
    return at.astimezone(shop.zone).date()


@all_or_nothing
def keep_week(*, by: Person, week: Week, at: datetime) -> int:
    """Change the shifts by weekday, Monday first; return how many days that are over were written out as they were.

    The hours of a day that is over are in figures already told, so wherever the new week would change them, the day
    gets its old shifts as its own. Raises ``ShopError``: not_your_role, invalid.
    """
    shop = _shop(by)
    trouble = {f"day_{number}": words for number, day in enumerate(week) if (words := _overlap(day))}
    if not any(week):
        trouble["day_0"] = "A shop without a shift can promise nothing: write one at least."
    if trouble:
        raise invalid(trouble)
    frozen = _write_out(shop, week, before=first_open_day(shop, at))
    Shift.objects.filter(shop=shop).delete()
    Shift.objects.bulk_create(
        Shift(shop=shop, weekday=number, start=start, end=end) for number, day in enumerate(week) for start, end in day
    )
    return frozen


@all_or_nothing
def close_day(*, by: Person, day: date, reason: str, at: datetime) -> ClosedDay:
    """Close a day. Raises ``ShopError``: not_your_role, frozen, invalid."""
    shop = _shop(by)
    _still_open(shop, day, at)
    if not reason.strip():
        raise invalid({"reason": "Say why, such as Thanksgiving."})
    WorkedDay.objects.filter(shop=shop, day=day).delete()
    closed, _ = ClosedDay.objects.update_or_create(shop=shop, day=day, defaults={"reason": reason.strip()[:60]})
    return closed


@all_or_nothing
def work_day(*, by: Person, day: date, shifts: Sequence[Hours], at: datetime) -> None:
    """Give a day its own shifts: an overtime Saturday, a short Christmas Eve."""
    shop = _shop(by)
    _still_open(shop, day, at)
    if not shifts:
        raise invalid({"hours": "Write its hours, such as 06:00-12:00."})
    words = _overlap(shifts)
    if words:
        raise invalid({"hours": words})
    ClosedDay.objects.filter(shop=shop, day=day).delete()
    WorkedDay.objects.filter(shop=shop, day=day).delete()
    WorkedDay.objects.bulk_create(WorkedDay(shop=shop, day=day, start=start, end=end) for start, end in shifts)


@all_or_nothing
def as_the_week(*, by: Person, day: date, at: datetime) -> None:
    """Let a day be again what its weekday is."""
    shop = _shop(by)
    _still_open(shop, day, at)
    found, _ = ClosedDay.objects.filter(shop=shop, day=day).delete()
    also, _ = WorkedDay.objects.filter(shop=shop, day=day).delete()
    if not found + also:
        raise not_found("day of its own on that date")


def _shop(by: Person) -> Shop:
    if not by.may(WHO):
        raise not_your_role("Calendar", say_roles(WHO))
    return Shop.objects.select_for_update(of=("self",)).get(id=by.the_shop_id)


def _still_open(shop: Shop, day: date, at: datetime) -> None:
    if day < first_open_day(shop, at):
        raise ShopError(
            "frozen",
            f"{day:%A %-d %B %Y} is over, and its hours are in figures already told.",
            "Choose today or a day to come.",
            status=422,
            fields={"day": "This day is over: choose today or a day to come."},
        )


def _overlap(shifts: Sequence[Hours]) -> str:
    last = -1
    for start, end in sorted(shifts):
        begin, stop = _minutes(start), _minutes(end)
        if begin == stop:
            return "A shift has a beginning and an end that differ."
        if begin < last:
            return "Two shifts overlap: end one before the next begins."
        last = stop if stop > begin else stop + 24 * 60
    return ""


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute


def _write_out(shop: Shop, week: Week, *, before: date) -> int:
    """Give every day that is over, and that the new week would change, its old shifts as its own."""
    since = Reading.objects.filter(tie_in__job__shop=shop).aggregate(first=Min("received_at"))["first"]
    if since is None:
        return 0
    old: list[list[Hours]] = [[] for _ in range(7)]
    for shift in shop.shifts.all():
        old[shift.weekday].append((shift.start, shift.end))
    own = set(shop.closed_days.values_list("day", flat=True)) | set(shop.worked_days.values_list("day", flat=True))
    first = since.astimezone(shop.zone).date() - 7 * ONE_DAY
    days = [first + number * ONE_DAY for number in range((before - first).days)]
    changed = [day for day in days if day not in own and sorted(old[day.weekday()]) != sorted(week[day.weekday()])]
    WorkedDay.objects.bulk_create(
        WorkedDay(shop=shop, day=day, start=start, end=end) for day in changed for start, end in old[day.weekday()]
    )
    ClosedDay.objects.bulk_create(
        ClosedDay(shop=shop, day=day, reason="no shift then") for day in changed if not old[day.weekday()]
    )
    return len(changed)
