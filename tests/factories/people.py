"""A shop and its people."""

from datetime import time
from itertools import count

from spools.flow.roles import Role
from spools.models import Person, Shift, Shop

_numbers = count(1)


def make_shop(name: str = "Pellworth Pipe", time_zone: str = "America/Chicago") -> Shop:
    """A shop that works Monday to Friday, 06:00 to 14:30."""
    shop = Shop.objects.create(name=name, time_zone=time_zone)
    Shift.objects.bulk_create(Shift(shop=shop, weekday=d, start=time(6), end=time(14, 30)) for d in range(5))
    return shop


def make_person(shop: Shop, *roles: Role, name: str = "") -> Person:
    """Somebody of a shop with these roles."""
    number = next(_numbers)
    person = Person(username=name.lower() or f"person{number}", last_name=name or f"Person {number}", shop=shop)
    person.roles = [role.value for role in roles]
    person.set_unusable_password()
    person.save()
    return person
