"""What the page of papers offers: each sheet that can be printed now, and the spools for a packet."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from typing import Any, NamedTuple

from django.db.models import CharField, Count, IntegerField, Q, QuerySet, Value
from django.db.models.functions import Cast

from cutlists.models import CutPlan
from geometry.tables.odd_sizes import say_pipe
from spools.errors import not_found
from spools.flow.roles import EVERYONE, Role
from spools.models import Bench, Jig, Job, Load, Main, Person, SetPoints, Spool, TagBatch
from spools.models.spools import SpoolQuerySet

_F, _C, _W, _X, _D, _M = Role.FOREMAN, Role.CUTTER, Role.FITTER, Role.FIELD, Role.DRIVER, Role.MANAGER
# Who may print what: the rows of these addresses in the table of access.
SHEET_WHO: dict[str, frozenset[Role]] = {
    "sheet": EVERYONE,
    "bench-list": frozenset({_W, _F, _C, Role.TABLET}),
    "plan-sheet": frozenset({_C, _F, _M}),
    "load-sheet": frozenset({_D, _F, _M}),
    "load-claim": frozenset({_D, _F, _M}),
    "field-log": frozenset({_X, _F, _M}),
    "jig-slip": frozenset({_X, _F}),
    "tag-list": frozenset({_F, _W, _D, _M}),
    "turnover": frozenset({_M, _F}),
    "promise-report": frozenset({_M, _F}),
}
LISTS = {"cut": "to cut", "welded": "to weld", "accepted": "to accept", "at_coating": "ready for coating"}
MOST = 200
MOST_LOADS = 20
MOST_BATCHES = 3


@dataclass(frozen=True, slots=True)
class Offer:
    """One sheet: what it is, of what, the name of its address and the number in it (0 for none)."""

    sheet: str
    of: str
    address: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of sheet with everything it can be printed of."""

    sheet: str
    offers: tuple[Offer, ...]


def to_print(person: Person, which: str) -> SpoolQuerySet:
    """Return the spools that a packet can be made of. Raises ``ShopError`` not_found for an unknown list."""
    if which not in LISTS:
        raise not_found("list of that name")
    ready = Spool.objects.for_person(person).live().filter(next_step=which, hold_count=0)
    return ready.for_lists().defer("solution", "route").order_by("due_at", "id")[:MOST]


def offers_to(person: Person) -> list[Kind]:
    """Return what this person may print now, by kind (one query: each kind of row brings the same five columns)."""
    shop = person.the_shop_id
    unread = Count("tie_ins", filter=Q(tie_ins__current_reading=None))
    mains = Main.objects.filter(job__shop_id=shop, job__is_open=True).annotate(unread=unread).filter(unread__gt=0)
    rows = _rows("bench-list", Bench.objects.filter(shop_id=shop, is_active=True), "name").union(
        _rows("plan-sheet", CutPlan.objects.for_person(person).to_cut(), "nps", "schedule", "number"),
        _rows("load-sheet", Load.objects.for_person(person).filter(closed_at=None), "going_to", "kind", "number"),
        _rows("field-log", mains, "name", number="unread"),
        _rows("jig-slip", Jig.objects.filter(shop_id=shop, set_points__isnull=False).distinct(), "serial"),
        _rows("tag-list", TagBatch.objects.for_person(person), number="number"),
        _rows("turnover", Job.objects.for_person(person).filter(is_open=True), "number", "name"),
        all=True,
    )
    by_address: dict[str, list[Row]] = {address: [] for address in SAID}
    for address, *row in rows:
        by_address[address].append(Row(*row))
    found = [offer for address, say in SAID.items() for offer in say(by_address[address])]
    found.append(Offer("Turnaround report", "all open jobs", "promise-report"))
    allowed = [offer for offer in found if person.may(SHEET_WHO[offer.address])]
    return [Kind(sheet, tuple(offers)) for sheet, offers in groupby(allowed, key=lambda offer: offer.sheet)]


class Row(NamedTuple):
    """What one thing that a sheet can be printed of is called."""

    id: int
    name: str
    more: str
    number: int


def _rows(address: str, found: QuerySet[Any], name: str = "", more: str = "", number: str = "") -> QuerySet[Any]:
    """Return rows of an address as the union takes them: all of the same types, in no order."""

    def text(column: str) -> Cast | Value:
        return Cast(column, CharField(max_length=200)) if column else Value("", CharField(max_length=200))

    count = Cast(number, IntegerField()) if number else Value(0, IntegerField())
    columns = {"said": text(name), "said_more": text(more), "said_number": count}
    of = Value(address, CharField(max_length=200))
    named: QuerySet[Any] = found.order_by().annotate(said_of=of, **columns).values_list("said_of", "id", *columns)
    return named


def _benches(rows: list[Row]) -> list[Offer]:
    return [
        Offer("Bench list", f"bench {one.name}" if one.name.isdigit() else one.name, "bench-list", one.id)
        for one in sorted(rows, key=_by_name)
    ]


def _plans(rows: list[Row]) -> list[Offer]:
    rows = sorted(rows, key=_newest)
    return [
        Offer("Cut plan", f"plan {one.number}, {say_pipe(one.name, one.more)}", "plan-sheet", one.id) for one in rows
    ]


def _loads(rows: list[Row]) -> list[Offer]:
    words = {Load.Kind.SITE.value: "Delivery sheet", Load.Kind.COATING.value: "Load list"}
    rows = sorted(sorted(rows, key=_newest)[:MOST_LOADS], key=lambda one: one.more)
    return [Offer(words[one.more], f"load {one.number} to {one.name}", "load-sheet", one.id) for one in rows]


def _mains(rows: list[Row]) -> list[Offer]:
    rows = sorted(rows, key=_by_name)
    return [Offer("Field log", f"{one.name}, {one.number} to measure", "field-log", one.id) for one in rows]


def _jigs(rows: list[Row]) -> list[Offer]:
    return [Offer("Jig check slip", f"jig {one.name}", "jig-slip", one.id) for one in sorted(rows, key=_by_name)]


def _batches(rows: list[Row]) -> list[Offer]:
    newest = sorted(rows, key=_newest)[:MOST_BATCHES]
    return [Offer("Steel tags to stamp", f"batch {one.number}", "tag-list", one.id) for one in newest]


def _jobs(rows: list[Row]) -> list[Offer]:
    rows = sorted(rows, key=_by_name)
    return [Offer("Turnover record", f"{one.name} {one.more}", "turnover", one.id) for one in rows]


def _by_name(row: Row) -> tuple[str, int]:
    return row.name, row.id


def _newest(row: Row) -> int:
    return -row.number


SAID: dict[str, Callable[[list[Row]], list[Offer]]] = {
    "bench-list": _benches,
    "plan-sheet": _plans,
    "load-sheet": _loads,
    "field-log": _mains,
    "jig-slip": _jigs,
    "tag-list": _batches,
    "turnover": _jobs,
}


def one_main(main_id: int, person: Person) -> Main:
    """Return one main. Raises ``ShopError`` not_found."""
    found = Main.objects.select_related("job").filter(id=main_id, job__shop_id=person.the_shop_id).first()
    if found is None:
        raise not_found("main of that name")
    return found


def one_set_points(jig_id: int, person: Person) -> SetPoints:
    """Return the newest set points of one jig. Raises ``ShopError`` not_found."""
    rows = SetPoints.objects.filter(jig_id=jig_id, jig__shop_id=person.the_shop_id)
    found = rows.select_related("jig").order_by("-version").first()
    if found is None:
        raise not_found("jig of that number")
    return found
