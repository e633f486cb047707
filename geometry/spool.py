"""What a spool request asks and what its answer holds."""

from dataclasses import dataclass, fields
from typing import Any

from geometry.bends.base import BendChoice
from geometry.centerline import CenterlineRequest, Step
from geometry.ends.base import EndChoice
from geometry.findings import Finding
from geometry.lengths import SIXTEENTH, Graduation
from geometry.pieces import Joint, Mark, Piece
from geometry.tables import PipeRow

KERF_MM = 3.175
"""1/8 in, an abrasive saw. Source: common practice, no source; measure the shop's own saw once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildRequest:
    """What every request to build says, whatever gives its legs.

    ``root_gap_mm`` is square to the joint. ``closing_mm`` is the measured distance between the two references, read
    from the hook; None when it wasn't taken. ``misclosure_accepted``: a named person let a reading go that doesn't
    close, so that it warns instead of stopping.
    """

    pipe: PipeRow
    end_a: EndChoice
    end_b: EndChoice
    root_gap_mm: float
    graduation: Graduation = SIXTEENTH
    closing_mm: float | None = None
    misclosure_accepted: bool = False
    material: str = "carbon steel"
    kerf_mm: float = KERF_MM

    def shared(self) -> dict[str, Any]:
        """Return what is named here, by name, for another request on the same pipe and ends."""
        return {field.name: getattr(self, field.name) for field in fields(BuildRequest)}


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolRequest(BuildRequest):
    """One tie-in: two legs from the PI to their named references, the included angle and the make-up.

    ``included_deg`` of 180 is straight pipe.
    """

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    bend: BendChoice


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainRequest(BuildRequest):
    """A whole spool of n legs: its center line and one make-up for each turn.

    The first leg runs to end A's reference, the last to end B's.
    """

    line: CenterlineRequest
    bends: tuple[BendChoice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolAnswer:
    """What the shop builds, or the findings that say why not.

    Not ``buildable``: ``pieces``, ``joints``, ``marks`` and ``steps`` are empty and at least one finding is an error.
    ``legs_mm``, ``turns_deg`` and ``take_offs_mm`` go from end A; ``turn_deg`` and ``take_off_mm`` are the first.

    ``check_mm`` is the check dimension to hold before the second tack: the straight distance on the center lines
    between the two finished ends of the spool as they stand in the shop, from the exact reading and never from
    rounded pieces. A finished end is the pipe's own end (so what a coupling takes is off and what is left on for
    field trim is in), the flange's face on a flanged end, and the measured reference on a saddle.
    ``rounded_check_mm`` is the same distance with the rounded cut lengths laid end to end.
    ``closing_mm`` is what C computes to between the two measured references: compare the field's closing with it.
    ``finished_legs_mm`` are the legs to the finished ends. ``steps`` walk the finished spool from end A to end B,
    ``rounded_steps`` with the rounded cut lengths.
    """

    buildable: bool
    legs_mm: tuple[float, ...]
    turn_deg: float
    take_off_mm: float
    pieces: tuple[Piece, ...] = ()
    joints: tuple[Joint, ...] = ()
    check_mm: float = 0.0
    rounded_check_mm: float = 0.0
    closing_mm: float = 0.0
    marks: tuple[Mark, ...] = ()
    mass_black_kg: float = 0.0
    findings: tuple[Finding, ...] = ()
    turns_deg: tuple[float, ...] = ()
    twists_deg: tuple[float, ...] = ()
    take_offs_mm: tuple[float, ...] = ()
    finished_legs_mm: tuple[float, ...] = ()
    steps: tuple[Step, ...] = ()
    rounded_steps: tuple[Step, ...] = ()
