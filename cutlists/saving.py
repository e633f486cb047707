"""Can it be saved? A piece cut wrong, or a leg that came back, and the open tie-ins that it still serves."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import islice
from operator import or_

from django.db.models import Q, QuerySet

from cutlists.models import StockBar, StockEvent
from cutlists.units import PER_MM, to_units
from spools.models import Person, Piece

SHOWN = 3


@dataclass(frozen=True, slots=True)
class Serves:
    """One open piece that a kept length still serves, and what is to trim off for it."""

    piece: Piece
    trim_u: int

    @property
    def trim_mm(self) -> float:
        """What is to trim off, in mm."""
        return self.trim_u / PER_MM


def serves(bar: StockBar, length_u: int, *, not_for: Piece | None = None) -> tuple[Serves, ...]:
    """Return the open pieces of the same pipe and material that a length still serves, least to trim first.

    Among equals the rush and the earlier due come first. A piece on hold, or of a build that has ended, is not open.
    """
    open_pieces = _open_pieces(bar.shop_id).filter(_of_the_same(bar, length_u))
    if not_for is not None:
        open_pieces = open_pieces.exclude(id=not_for.id)
    return _first(open_pieces[: SHOWN + 1], length_u)


def serves_each(bars: Sequence[StockBar]) -> dict[int, tuple[Serves, ...]]:
    """Return what each of some bars of one shop serves, by bar (one query)."""
    if not bars:
        return {}
    any_of = reduce(or_, (_of_the_same(bar, bar.length_u) for bar in bars))
    pieces = list(_open_pieces(bars[0].shop_id).filter(any_of))
    return {bar.id: _first((piece for piece in pieces if _alike(piece, bar)), bar.length_u) for bar in bars}


def _open_pieces(shop_id: int) -> QuerySet[Piece]:
    return (
        Piece.objects.filter(spool__shop_id=shop_id, spool__live=True, spool__hold_count=0)
        .filter(sawn=True, is_cut=False, stock_mm__gt=0)
        .select_related("spool__tie_in__job")
        .defer("spool__solution", "spool__route")
        .order_by("-stock_mm", "-spool__rush", "spool__due_at", "id")
    )


def _of_the_same(bar: StockBar, length_u: int) -> Q:
    longest_mm = (length_u + 1) / PER_MM
    return Q(nps=bar.nps, schedule=bar.schedule, material=bar.material, stock_mm__lte=longest_mm)


def _alike(piece: Piece, bar: StockBar) -> bool:
    return (piece.nps, piece.schedule, piece.material) == (bar.nps, bar.schedule, bar.material)


def _first(pieces: Iterable[Piece], length_u: int) -> tuple[Serves, ...]:
    found = (Serves(piece, length_u - to_units(piece.stock_mm)) for piece in pieces)
    return tuple(islice((one for one in found if one.trim_u >= 0), SHOWN))


def kept_pieces(person: Person) -> list[StockBar]:
    """Return what lies in the rack that was once meant as a piece: cut wrong, or returned; the newest first."""
    came = StockEvent.objects.filter(
        kind__in=[StockEvent.Kind.RECEIVED, StockEvent.Kind.RETURNED], piece__isnull=False
    ).values("bar_id")
    return list(
        StockBar.objects.for_person(person)
        .filter(state=StockBar.State.IN_STOCK, id__in=came)
        .select_related("heat", "cut_from")
        .order_by("-id")[:20]
    )
