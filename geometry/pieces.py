"""What a spool is made of: pieces with their ends and marks, and the joints between them."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Mark:
    """A measure laid on the steel with a tape, or a set of the saw.

    ``name`` is ``throat``, ``center``, ``heel``, ``cut_back``, ``end_piece``, ``bend_start``, ``bend_end``, ``turn``,
    ``roll`` or ``left_over``. ``unit`` is ``mm``, or ``deg`` for the last three.
    """

    name: str
    value_mm: float
    unit: str = "mm"


@dataclass(frozen=True, slots=True)
class PieceEnd:
    """One end of a piece.

    ``at`` says where it sits: ``end A``, ``end B`` or ``weld 1``. ``prep`` is the code of the end preparation.
    ``cut_angle_deg`` is measured from square. ``roll_deg`` turns this cut's heel about the pipe against the heel of
    the piece's first end, right-hand along the flow from A; 0 for most pieces.
    """

    at: str
    prep: str
    cut_angle_deg: float = 0.0
    operations: tuple[str, ...] = ()
    roll_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the spool.

    ``mark`` is ``A`` or ``B`` for the legs' pipe, ``P1`` for pipe between two bends, ``E`` (``E1``, ``E2``) for an
    elbow, ``M1`` for the middle pieces of a miter. ``kind`` is ``pipe``, ``elbow``, ``bent_pipe`` or ``flange``.
    ``cut_length_mm`` is exact, on the center line: of an elbow the arc between its faces, of bent pipe the developed
    length. ``rounded_cut_mm`` is what the ticket says. ``stock_length_mm`` is what the bar must give without the kerf
    (to the long points of slanted cuts); 0 for a fitting. ``made_from`` is the fitting it is cut from (``LR90``).
    ``turn_deg``, ``bend_radius_mm``, ``center_to_end_mm`` are an elbow's, or those of bent pipe's first bend, else 0.
    """

    mark: str
    kind: str
    nps: str
    schedule: str
    cut_length_mm: float
    rounded_cut_mm: float
    ends: tuple[PieceEnd, ...]
    mass_kg: float
    marks: tuple[Mark, ...] = ()
    stock_length_mm: float = 0.0
    made_from: str = ""
    turn_deg: float = 0.0
    bend_radius_mm: float = 0.0
    center_to_end_mm: float = 0.0

    def rounded(self, rounded_cut_mm: float) -> "Piece":
        """Return the same piece with the cut length that its ticket says."""
        return replace(self, rounded_cut_mm=rounded_cut_mm)


@dataclass(frozen=True, slots=True)
class Joint:
    """A weld between two pieces, numbered from end A.

    ``kind`` is ``butt`` or ``miter``. ``gap_mm`` is the root gap square to the joint. ``turn_deg`` is how far the
    center line turns at the joint itself: 0 at a butt weld, twice the cut at a miter.
    """

    number: int
    kind: str
    pieces: tuple[str, str]
    gap_mm: float
    turn_deg: float = 0.0
