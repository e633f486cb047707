"""Add somebody to the shop, or change what they do, their four digits and their sign-in."""

from dataclasses import dataclass

from django.contrib.auth.hashers import make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN, Role.MANAGER})
OFFICE = frozenset({Role.FOREMAN, Role.MANAGER})


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonFacts:
    """What the shop writes down about somebody; empty ``digits`` and ``word`` leave them as they are."""

    username: str
    first_name: str
    last_name: str
    roles: tuple[Role, ...]
    stamp: str = ""
    email: str = ""
    digits: str = ""
    word: str = ""
    is_active: bool = True


@all_or_nothing
def keep_person(*, by: Person, facts: PersonFacts, person_id: int | None = None) -> Person:
    """Write a person down, new or changed. Raises ``ShopError``: not_your_role, not_found, invalid, managers_only."""
    if not by.may(WHO):
        raise not_your_role("People", say_roles(WHO))
    person = _person(by, person_id)
    _managers_keep_managers(by, person, facts)
    trouble = _trouble(by, person, facts)
    if trouble:
        raise invalid(trouble)
    person.username = person.username or facts.username.strip()
    person.first_name, person.last_name = facts.first_name.strip(), facts.last_name.strip()
    person.roles = [role.value for role in facts.roles]
    person.stamp, person.email, person.is_active = facts.stamp.strip().upper(), facts.email.strip(), facts.is_active
    if facts.digits:
        person.pin = make_password(facts.digits)
    if facts.word:
        person.set_password(facts.word)
    elif person.pk is None:
        person.set_unusable_password()
    person.save()
    return person


def _person(by: Person, person_id: int | None) -> Person:
    if person_id is None:
        return Person(shop=by.the_shop)
    found = (
        Person.objects.select_related(None)
        .select_for_update(of=("self",))
        .filter(id=person_id, shop_id=by.the_shop_id)
        .first()
    )
    if found is None:
        raise not_found("person of that name")
    return found


def _managers_keep_managers(by: Person, person: Person, facts: PersonFacts) -> None:
    """Otherwise a foreman could make themselves one, or sign in as one."""
    if by.may(frozenset({Role.MANAGER})):
        return
    is_one = Role.MANAGER in person.role_set
    makes_one = Role.MANAGER in facts.roles and any(
        Role.MANAGER in other.role_set for other in Person.objects.filter(shop_id=by.the_shop_id, is_active=True)
    )
    if is_one or makes_one:
        raise ShopError(
            "managers_only",
            "A project manager is made and changed by a project manager.",
            "Ask one of them.",
            status=403,
            fields={"roles": "Only a project manager can give or change this role."},
        )


def _trouble(by: Person, person: Person, facts: PersonFacts) -> dict[str, str]:
    trouble = {}
    if person.pk is None and not facts.username.strip():
        trouble["username"] = "Write the name they sign in with."
    elif person.pk is None and Person.objects.filter(username__iexact=facts.username.strip()).exists():
        trouble["username"] = "Somebody has this sign-in name already: choose another."
    if not facts.last_name.strip():
        trouble["last_name"] = "Write the name that the floor calls them by."
    if not facts.roles:
        trouble["roles"] = "Tick what they do."
    elif Role.TABLET in facts.roles and len(facts.roles) > 1:
        trouble["roles"] = "A shared tablet is no person: it has that role alone."
    if person.pk == by.pk and not (set(facts.roles) & OFFICE & by.role_set and facts.is_active):
        trouble["roles"] = "You would shut yourself out of this page: let somebody else of the office do that."
    return trouble | _secrets(person, facts)


def _secrets(person: Person, facts: PersonFacts) -> dict[str, str]:
    trouble = {}
    if facts.digits and not (len(facts.digits) == 4 and facts.digits.isascii() and facts.digits.isdigit()):
        trouble["digits"] = "Four digits, such as 4071."
    elif facts.digits and (len(set(facts.digits)) == 1 or facts.digits in "0123456789 9876543210"):
        trouble["digits"] = "Not all alike and not in a row: others try those first."
    elif facts.digits and Role.TABLET in facts.roles:
        trouble["digits"] = "The tablet itself has no digits: those who work at it do."
    if facts.word:
        try:
            validate_password(facts.word, person)
        except ValidationError as weak:
            trouble["word"] = " ".join(weak.messages)
    return trouble
