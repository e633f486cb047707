"""What is to be cut, from what, and the plan that comes back; whole numbers in a unit of the caller's choice."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

PROVEN = "proven: no plan uses less"


class ProblemError(ValueError):
    """The problem can't be read or makes no sense as it stands; the message says what to change."""


class NotEnoughStock(ValueError):
    """No plan can place every piece, or none was found; `pieces` names what is left over."""

    def __init__(self, message: str, pieces: tuple[str, ...]) -> None:
        super().__init__(message)
        self.pieces = pieces


@dataclass(frozen=True, slots=True)
class Stock:
    """Bars of one length: how many there are (None: as many as asked for) and what opening one counts.

    `cost` is the nominal length (a single 21 ft, a double 40 ft, whatever they measure); by default the length
    itself. A remnant (a drop from earlier) costs nothing. `trim` replaces the problem's own, for a bar or a drop with a
    clean end.
    """

    id: str
    length: int
    count: int | None = None
    cost: int | None = None
    remnant: bool = False
    trim: int | None = None

    @property
    def price(self) -> int:
        """What opening one of these bars counts on level 1."""
        if self.remnant:
            return 0
        return self.length if self.cost is None else self.cost


@dataclass(frozen=True, slots=True)
class Demand:
    """So many pieces of one length."""

    id: str
    length: int
    count: int = 1


@dataclass(frozen=True)
class Problem:
    """Pieces to cut from stock with one saw.

    kerf: what the blade takes at each cut that separates a piece. trim: what comes off each bar first, its own cut
    included. keep_from: the shortest drop worth keeping. drop_price: what each drop kept counts on level 2, as scrap
    (default: keep_from), so that one long drop beats many short ones.
    """

    kerf: int
    trim: int
    keep_from: int
    stock: tuple[Stock, ...]
    demand: tuple[Demand, ...]
    drop_price: int | None = None

    def __post_init__(self) -> None:
        complain_about(self)

    @property
    def price_of_a_drop(self) -> int:
        """What one drop kept counts beside scrap."""
        return self.keep_from if self.drop_price is None else self.drop_price

    @cached_property
    def stock_by_id(self) -> dict[str, Stock]:
        """Each stock under its id."""
        return {stock.id: stock for stock in self.stock}

    @cached_property
    def demand_by_id(self) -> dict[str, Demand]:
        """Each demand under its id."""
        return {demand.id: demand for demand in self.demand}

    def usable(self, stock: Stock) -> int:
        """The length of a bar after its trim."""
        return stock.length - (self.trim if stock.trim is None else stock.trim)

    def drop_after(self, stock: Stock, lengths: list[int]) -> int:
        """What is left of a bar: a last cut that runs out of the end costs only what is there.

        >>> bar = Stock("R21", 252)
        >>> problem = Problem(1, 0, 18, (bar,), (Demand("A", 62, 4),))
        >>> problem.drop_after(bar, [62, 62, 62, 62]), problem.drop_after(bar, [62, 62, 62, 63])
        (0, 0)
        >>> problem.drop_after(bar, [62, 62, 62])
        63
        """
        return max(0, self.usable(stock) - sum(lengths) - self.kerf * len(lengths))


@dataclass(frozen=True, slots=True)
class Bar:
    """One way to cut a bar, and how many bars are cut that way."""

    stock: str
    cuts: tuple[str, ...]
    times: int
    drop: int


@dataclass(frozen=True, slots=True)
class Levels:
    """A plan measured on the four levels, best when smallest, in this order."""

    new_stock: int
    scrap_and_drops: int
    shortness: int
    """Minus the longest drop kept."""
    patterns: int

    def as_tuple(self) -> tuple[int, int, int, int]:
        """The levels in their order, for comparing."""
        return (self.new_stock, self.scrap_and_drops, self.shortness, self.patterns)


@dataclass(frozen=True, slots=True)
class Plan:
    """Every bar and what is cut from it, with what is known about how good that is."""

    bars: tuple[Bar, ...]
    stock_length_used: int
    lower_bound: int
    proven: bool
    seconds: float
    word: str
    levels: Levels
    scrap: int = 0

    @property
    def bars_used(self) -> int:
        """How many bars are opened, drops from earlier included."""
        return sum(bar.times for bar in self.bars)


LONGEST = 1_000_000_000
MOST_PIECES = 20_000
"""As many as the quick plans place within a second of any limit."""


def complain_about(problem: Problem) -> None:
    """Raise ProblemError at the first thing that makes no sense."""
    for name in ("kerf", "trim", "keep_from"):
        _whole(getattr(problem, name), name, least=0)
    if problem.drop_price is not None:
        _whole(problem.drop_price, "drop_price", least=0)
    _different("stock", [stock.id for stock in problem.stock])
    _different("demand", [demand.id for demand in problem.demand])
    for stock in problem.stock:
        _whole(stock.length, f"the length of stock {stock.id}", least=1)
        for value, name in ((stock.count, "count"), (stock.cost, "cost"), (stock.trim, "trim")):
            if value is not None:
                _whole(value, f"the {name} of stock {stock.id}", least=0)
    for demand in problem.demand:
        _whole(demand.length, f"the length of piece {demand.id}", least=1)
        _whole(demand.count, f"the count of piece {demand.id}", least=0)
    if sum(demand.count for demand in problem.demand) > MOST_PIECES:
        raise ProblemError(f"more than {MOST_PIECES:,} pieces: plan them in several lots")


def _whole(value: object, name: str, *, least: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int):
        raise ProblemError(f"{name} must be a whole number, not {value!r}: count in the smallest unit you measure")
    if value < least:
        raise ProblemError(f"{name} is {value}: it must be {least} or more")
    if value > LONGEST:
        raise ProblemError(f"{name} is {value}: count in a coarser unit, up to {LONGEST:,}")


def _different(what: str, ids: list[str]) -> None:
    seen: set[str] = set()
    for one in ids:
        if one in seen:
            raise ProblemError(f"two {what} entries are called {one!r}: give each its own id")
        seen.add(one)
