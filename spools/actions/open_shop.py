"""Open a shop: its calendar and its first foreman; add people to it."""

from collections.abc import Sequence
from datetime import time
from zoneinfo import available_timezones

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from spools.errors import invalid
from spools.flow.roles import Role
from spools.models import Person, Shift, Shop
from spools.transactions import all_or_nothing

SHIFT = (time(6), time(14, 30))


@all_or_nothing
def open_shop(*, name: str, time_zone: str, shift: tuple[time, time] = SHIFT) -> Shop:
    """Open a shop that works Monday to Friday. Raises ``ShopError`` invalid for an empty name or unknown zone."""
    trouble = {}
    if not name.strip():
        trouble["name"] = "Write the shop's name."
    if time_zone not in available_timezones():
        trouble["time_zone"] = "Write the time zone like America/Chicago or Europe/Berlin."
    if trouble:
        raise invalid(trouble, " ".join(trouble.values()))
    shop = Shop.objects.create(name=name.strip(), time_zone=time_zone)
    start, end = shift
    Shift.objects.bulk_create(Shift(shop=shop, weekday=day, start=start, end=end) for day in range(5))
    return shop


@all_or_nothing
def add_person(
    *, shop: Shop, username: str, last_name: str, roles: Sequence[Role], password: str, first_name: str = ""
) -> Person:
    """Add somebody with a sign-in. Raises ``ShopError`` invalid for a name that is taken or a weak password."""
    trouble = {}
    if not username.strip() or Person.objects.filter(username=username.strip()).exists():
        trouble["username"] = "Choose a sign-in name that nobody has yet."
    if not roles:
        trouble["roles"] = "Choose at least one role."
    try:
        validate_password(password)
    except ValidationError as weak:
        trouble["password"] = " ".join(weak.messages)
    if trouble:
        raise invalid(trouble, " ".join(trouble.values()))
    person = Person(username=username.strip(), first_name=first_name, last_name=last_name, shop=shop)
    person.roles = [role.value for role in roles]
    person.set_password(password)
    person.save()
    return person
