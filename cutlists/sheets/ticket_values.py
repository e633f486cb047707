"""What a cut ticket says."""

from dataclasses import dataclass

from cutlists.sheets.frame import Heading
from cutlists.sheets.qr import Code
from geometry.drawing.shapes import Drawing


@dataclass(frozen=True, slots=True)
class TicketEnd:
    """One end of the piece: the preparation's code chooses the picture, ``note`` is small."""

    code: str
    words: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class NamedLength:
    """A length with its name: throat, center, heel, cut back, long point."""

    name: str
    mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticket:
    """One piece of one spool. Empty text prints a line to write on, or nothing where a plan isn't made yet."""

    heading: Heading
    mark: str
    piece: str
    piece_number: int
    piece_count: int
    kind: str
    kind_words: str
    length_mm: float
    end_1: TicketEnd
    end_2: TicketEnd
    nps: str
    schedule: str
    wall_mm: float
    code: Code
    length_label: str = "cut length"
    material: str = ""
    heat: str = ""
    bar: str = ""
    position: str = ""
    tape_mm: float | None = None
    bench: str = ""
    due: str = ""
    operations: tuple[str, ...] = ()
    marks: tuple[NamedLength, ...] = ()
    sketch: Drawing | None = None
    cautions: tuple[str, ...] = ()

    @property
    def piece_mark(self) -> str:
        """The mark painted on the piece: 214-A."""
        return f"{self.mark}-{self.piece}"
