"""What a spool sheet says."""

from dataclasses import dataclass

from cutlists.sheets.frame import Heading
from cutlists.sheets.qr import Code
from cutlists.sheets.ticket_values import NamedLength
from geometry.drawing.shapes import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolPiece:
    """One line of the pieces' table."""

    mark: str
    words: str
    length_mm: float | None
    end_1: str
    end_2: str
    heat: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolJoint:
    """One weld; ``gap_mm`` is the root gap square to the joint, None for fillets."""

    number: str
    pieces: str
    kind: str
    gap_mm: float | None
    wps: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RawReadings:
    """What was read from the jig, exactly as typed, and by whom."""

    leg_a: str
    leg_b: str
    included: str
    burn: str
    set_point: str
    closing: str
    jig: str
    taken: str
    revision: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolSheet:
    """Everything the fitter and the welder need for one spool. ``drawing`` is to scale from its stated view."""

    heading: Heading
    mark: str
    tag: str
    nps: str
    schedule: str
    material: str
    turn_words: str
    hand_words: str
    pieces: tuple[SpoolPiece, ...]
    elbow_marks: tuple[NamedLength, ...]
    joints: tuple[SpoolJoint, ...]
    check_mm: float
    check_tolerance_mm: float
    check_words: str
    readings: RawReadings
    black_kg: float
    zinc_kg: float
    code: Code
    drawing: Drawing | None = None
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
