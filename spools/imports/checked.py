"""What a check of a list gives back: the good lines as values, and every problem by line and column."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from spools.imports.table import Row

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class BadRow:
    """One line that can't be brought in, with what to do for each of its columns."""

    line: int
    name: str
    problems: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class GoodRow(Generic[T]):
    """One line that can, with a word on what will come of it; ``lines`` are all that it is made of, where several."""

    line: int
    row: Row
    value: T
    remark: str = ""
    lines: tuple[int, ...] = ()

    @property
    def all_lines(self) -> tuple[int, ...]:
        """The lines of the file that this one is made of."""
        return self.lines or (self.line,)


@dataclass(frozen=True, slots=True)
class Checked(Generic[T]):
    """All lines of a list: good ones and bad ones, in the file's order."""

    good: tuple[GoodRow[T], ...]
    bad: tuple[BadRow, ...]


class Problems:
    """Collects what is wrong with one line; the first thing said of a column counts."""

    def __init__(self) -> None:
        self._said: dict[str, str] = {}

    def say(self, column: str, words: str) -> None:
        """Note what is wrong with a column and what to do."""
        self._said.setdefault(column, words)

    def __bool__(self) -> bool:
        return bool(self._said)

    def of(self, row: Row, name: str) -> BadRow:
        """Return the line as a bad one; ``name`` is what people know it by, such as its mark."""
        return BadRow(row.line, name, tuple(self._said.items()))
