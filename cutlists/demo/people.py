"""Who works on the demo job: one sign-in for each role, and the rest of the crew."""

from dataclasses import dataclass

from django.contrib.auth.hashers import make_password

from spools.flow.roles import Role
from spools.models import Person, Shop

DEMO_WORD = "gallery-2208"
DEMO_DIGITS = "2208"  # what signs anybody on at the shared tablet


@dataclass(frozen=True, slots=True)
class Name:
    """One person: sign-in, names, roles, and a welder's stamp."""

    sign_in: str
    first: str
    last: str
    roles: tuple[Role, ...]
    stamp: str = ""


NAMES: tuple[Name, ...] = (
    Name("kellan", "Marta", "Kellan", (Role.FOREMAN,)),
    Name("duvall", "Ray", "Duvall", (Role.CUTTER,)),
    Name("prieto", "Tomas", "Prieto", (Role.CUTTER,)),
    Name("ruiz", "Ana", "Ruiz", (Role.FITTER,), "AR"),
    Name("banner", "Cole", "Banner", (Role.FITTER,), "CB"),
    Name("sorrel", "Ike", "Sorrel", (Role.FITTER,), "IS"),
    Name("tamura", "Jun", "Tamura", (Role.FITTER,), "JT"),
    Name("orban", "Nate", "Orban", (Role.FIELD,)),
    Name("calder", "Bea", "Calder", (Role.FIELD,)),
    Name("quist", "Hal", "Quist", (Role.DRIVER,)),
    Name("dorn", "Priya", "Dorn", (Role.MANAGER,)),
    Name("tablet", "", "Bench tablet", (Role.TABLET,)),
)
# The one to try for each role.
SIGN_INS: tuple[tuple[str, str], ...] = (
    ("Foreman", "kellan"),
    ("Cutter", "duvall"),
    ("Fitter / welder", "ruiz"),
    ("Field", "orban"),
    ("Driver", "quist"),
    ("Project manager", "dorn"),
    ("Shared tablet", "tablet"),
)


@dataclass(frozen=True, slots=True)
class Crew:
    """The people by what they do in the story; ``field`` by crew, ``welders`` by bench."""

    foreman: Person
    cutter: Person
    groover: Person
    welders: dict[str, Person]
    field: dict[int, Person]
    driver: Person
    manager: Person


def hire(shop: Shop) -> Crew:
    """Make everybody's sign-in; all of them have the demo's word and four digits."""
    word, digits = make_password(DEMO_WORD), make_password(DEMO_DIGITS)
    Person.objects.bulk_create(
        Person(
            username=name.sign_in,
            first_name=name.first,
            last_name=name.last,
            roles=[role.value for role in name.roles],
            stamp=name.stamp,
            shop=shop,
            password=word,
            pin="" if Role.TABLET in name.roles else digits,
        )
        for name in NAMES
    )
    return crew_of(shop)


def crew_of(shop: Shop) -> Crew:
    """Return the people of a demo shop."""
    by_name = {person.username: person for person in shop.people.all()}
    return Crew(
        foreman=by_name["kellan"],
        cutter=by_name["duvall"],
        groover=by_name["prieto"],
        welders={"1": by_name["banner"], "2": by_name["sorrel"], "3": by_name["ruiz"], "4": by_name["tamura"]},
        field={1: by_name["orban"], 2: by_name["calder"]},
        driver=by_name["quist"],
        manager=by_name["dorn"],
    )
