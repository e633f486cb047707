"""One box finds a mark, a tag, a heat or a station; nothing typed reaches SQL but as a value."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models import Q

from geometry.lengths import LengthError, parse_length
from spools.errors import ShopError
from spools.marks import mark_key
from spools.models import Person, Piece, Spool, TieIn
from spools.models.spools import SpoolQuerySet
from spools.ticket_codes import read_ticket

BUILD = re.compile(r"^(?P<mark>.+?)(?:\s+(?:REV\.?\s+|BUILD\s+)?(?P<letter>[A-Z]{1,2}))?(?:-(?P<piece>[A-Z]\d?))?$")
TAG = re.compile(r"\d{5}")
STATION = re.compile(r"^(\d{1,4})\+(\d{2})$")
MOST = 50
FOOT_MM = 304.8


@dataclass(frozen=True, slots=True)
class Found:
    """What a search gave: spools, tie-ins still without one, and how it was read."""

    text: str
    spools: tuple[Spool, ...]
    tie_ins: tuple[TieIn, ...]
    read_as: str

    @property
    def only(self) -> Spool | TieIn | None:
        """The one thing found, when it is one."""
        both: tuple[Spool | TieIn, ...] = (*self.spools, *self.tie_ins)
        return both[0] if len(both) == 1 else None


def find(text: str, person: Person) -> Found:
    """Look for a code first, then a mark, a steel tag, a heat, a station; the newest build of a mark comes first.

    A mark with a build's letter or a piece's (``214 B``, ``214-A``, ``214 B-A``: what is painted on steel and printed
    on paper) means that very build, be it old.
    """
    text = text.strip()[:80]
    ticket = read_ticket(text)
    if ticket:
        of_ticket = Spool.objects.for_person(person).for_lists().select_related("shop").filter(id=ticket.spool_id)
        return Found(text, tuple(one for one in of_ticket if one.letter == ticket.letter), (), "ticket")
    text = text[:40]
    spools = Spool.objects.for_person(person).for_lists().select_related("shop")
    tie_ins = TieIn.objects.for_person(person).select_related("main", "job")
    try:
        key = mark_key(text)
    except ShopError:
        return Found(text, (), (), "nothing")
    by_mark = _newest_first(spools.filter(tie_in__mark_key=key, live=True))
    bare = tuple(tie_ins.filter(mark_key=key).exclude(spools__live=True)[:MOST])
    if by_mark or bare:
        return Found(text, by_mark, bare, "mark")
    of_build = _of_build(text, spools)
    if of_build:
        return Found(text, of_build, (), "ticket")
    for read_as, asked in _by_number(key, person):
        found = _newest_first(spools.filter(asked))
        if found:
            return Found(text, found, (), read_as)
    near = _station_mm(text)
    if near is not None:
        about = {"station_mm__gte": near - 5 * FOOT_MM, "station_mm__lte": near + 5 * FOOT_MM}
        there = spools.filter(live=True, **{f"tie_in__{name}": value for name, value in about.items()})
        without = tie_ins.filter(**about).exclude(spools__live=True)
        return Found(
            text,
            tuple(there.order_by("-tie_in__job__is_open", "-clock_start_at", "-id")[:MOST]),
            tuple(without.order_by("-job__is_open", "mark_key", "id")[:MOST]),
            "station",
        )
    begins = tie_ins.filter(job__is_open=True, mark_key__startswith=key)
    return Found(text, (), tuple(begins.order_by("mark_key", "id")[:MOST]), "start of a mark")


def _by_number(key: str, person: Person) -> Iterator[tuple[str, Q]]:
    """Yield what a number may be: a steel tag, if it has as many digits, else a heat."""
    if TAG.fullmatch(key):
        yield "tag", Q(tag=key)
    of_heat = Piece.objects.filter(heat__shop_id=person.the_shop_id, heat__number=key).values("spool_id")
    yield "heat", Q(id__in=of_heat)


def _of_build(text: str, spools: SpoolQuerySet) -> tuple[Spool, ...]:
    """Return the builds that a painted or printed mark names: a piece without a letter is of the first build."""
    read = BUILD.match(text.upper())
    if not read or not (read["letter"] or read["piece"]):
        return ()
    try:
        named = list(spools.filter(tie_in__mark_key=mark_key(read["mark"])).prefetch_related("pieces")[:MOST])
    except ShopError:
        return ()
    letter, piece = read["letter"] or "", read["piece"] or ""
    if not letter:
        first = tuple(one for one in named if one.build == 1 and piece in {part.mark for part in one.pieces.all()})
        if first:
            return first
        letter = piece
    return tuple(one for one in named if one.letter == letter)


def _newest_first(spools: SpoolQuerySet) -> tuple[Spool, ...]:
    return tuple(spools.order_by("-clock_start_at", "-id")[:MOST])


def _station_mm(text: str) -> float | None:
    plain = STATION.match(text)
    if plain:
        return (int(plain[1]) * 100 + int(plain[2])) * FOOT_MM
    if not re.search(r"ft|'|m\b", text):
        return None
    try:
        return parse_length(text, unit="ft", longest_mm=1e9).mm
    except LengthError:
        return None
