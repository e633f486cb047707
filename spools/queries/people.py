"""The people of a shop: for the set-up, and for the names on the tablet."""

from django.db.models import QuerySet

from spools.errors import not_found
from spools.flow.roles import Role
from spools.models import Person

ON_THE_FLOOR = frozenset({Role.CUTTER, Role.FITTER, Role.DRIVER, Role.FOREMAN})


def people_of(person: Person) -> QuerySet[Person]:
    """Return everybody of the person's shop, those who left last."""
    return Person.objects.filter(shop_id=person.the_shop_id).order_by("-is_active", "last_name", "username")


def one_of(number: int, person: Person) -> Person:
    """Return one of the shop's people. Raises ``ShopError`` not_found."""
    found = people_of(person).filter(id=number).first()
    if found is None:
        raise not_found("person of that name")
    return found


def who_may_sign_on(person: Person) -> tuple[Person, ...]:
    """Return who has four digits and works on the floor."""
    return tuple(one for one in people_of(person).filter(is_active=True).exclude(pin="") if one.may(ON_THE_FLOOR))
