"""What a spool's drawing shows: plain values, so that a drawing needs no other part of the program."""

from dataclasses import dataclass
from typing import Literal

from geometry.centerline import CenterlineRequest, Step
from geometry.lengths import SIXTEENTH, Graduation

Hand = Literal["", "left", "right", "up", "down"]


class DrawingError(ValueError):
    """The spool can't be drawn; the message says what to change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnEnd:
    """One end of the spool.

    ``prep`` is the code of the end preparation, ``words`` what is written beside its picture, ``reference`` what the
    leg was measured to where that isn't the pipe's end. ``beyond_mm`` is how far
    the finished end stands past the pipe (a flange), ``takes_mm`` what lies between the leg's reference and the pipe.
    """

    prep: str
    words: str
    reference: str = ""
    takes_mm: float = 0.0
    beyond_mm: float = 0.0
    to_main: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPiece:
    """One piece: its mark on the steel and the cut length that its ticket says (0 where there is none to cut)."""

    mark: str
    kind: str
    cut_mm: float = 0.0
    on_center: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolDrawing:
    """A spool to draw.

    ``line`` holds legs, turns and twists; ``steps`` walk the finished spool from end A's reference to end B's, in mm
    and degrees, as in geometry.centerline. ``welds`` are their numbers in order from end A. ``hand`` says which way the
    first turn goes, seen from the main with the up mark on top; empty where it wasn't recorded. ``check_mm`` is the
    check dimension between the finished ends.
    """

    mark: str
    pipe_words: str
    od_mm: float
    wall_mm: float
    line: CenterlineRequest
    steps: tuple[Step, ...]
    pieces: tuple[DrawnPiece, ...]
    end_a: DrawnEnd
    end_b: DrawnEnd
    check_mm: float
    welds: tuple[int, ...] = ()
    root_gap_mm: float = 0.0
    hand: Hand = ""
    graduation: Graduation = SIXTEENTH

    @property
    def hand_words(self) -> str:
        """What is said where no hand was recorded: of one bend a doubt, of more none, for their rolls tell it."""
        if len(self.line.turns_deg) > 1:
            return "The roll between the bends sets the hand."
        return "Hand not recorded: the spool may be the mirror image."

    @property
    def middle_pieces(self) -> tuple[DrawnPiece, ...]:
        """The pieces between the two ends of a miter of several welds."""
        return tuple(piece for piece in self.pieces if piece.mark.startswith("M"))

    @property
    def many_welds(self) -> bool:
        """Whether a miter has so many short pieces that one callout names them all: a leader each would cross."""
        return len(self.line.turns_deg) == 1 and len(self.middle_pieces) > 2
