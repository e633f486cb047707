"""What a phone needs to know of a tie-in's make-up to tell in the hole that a leg is too short."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from geometry.ends import EndChoice, end_prep
from geometry.ends.base import EndPrep
from geometry.findings import has_errors
from geometry.room import SHORTEST_PIPE_MM
from geometry.stretches import end_effect
from geometry.tables import PipeRow, UnknownPipe, elbow, pipe

JUDGED_ON_THE_PHONE = ("trimmed_elbow", "whole_elbow")
LETTERS = {"long": "LR", "short": "SR"}


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeUpAsked:
    """What decides the make-up of a tie-in: pipe, ends, bend and root gap in mm."""

    nps: str
    schedule: str
    end_a: str
    end_b: str
    bend_kind: str
    radius: str = "long"
    source: str | None = None
    gap_mm: float


@lru_cache(maxsize=4096)
def make_up_facts(asked: MakeUpAsked) -> dict[str, Any] | None:
    """Return radii, gap, and what each end takes and needs, in mm; None where the shop alone can judge it."""
    if asked.bend_kind not in JUDGED_ON_THE_PHONE:
        return None
    try:
        row = pipe(asked.nps, asked.schedule)
    except UnknownPipe:
        return None
    letters = LETTERS[asked.radius]
    return {
        "kind": asked.bend_kind,
        "source": asked.source,
        "radius_90_mm": _elbow_mm(row.nps, f"{letters}90", "bend_radius_mm"),
        "radius_180_mm": _elbow_mm(row.nps, f"{letters}180", "bend_radius_mm"),
        "center_to_end_45_mm": _elbow_mm(row.nps, f"{letters}45", "standard_mm"),
        "center_to_end_90_mm": _elbow_mm(row.nps, f"{letters}90", "standard_mm"),
        "gap_mm": asked.gap_mm,
        "shortest_mm": SHORTEST_PIPE_MM,
        "ends": {"a": _end_facts(asked.end_a, row, asked.gap_mm), "b": _end_facts(asked.end_b, row, asked.gap_mm)},
    }


def _elbow_mm(nps: str, kind: str, column: str) -> float | None:
    try:
        return float(getattr(elbow(nps, kind), column))
    except UnknownPipe:
        return None


def _end_facts(code: str, row: PipeRow, gap_mm: float) -> dict[str, Any]:
    """Return what an end takes off its leg by reference, and the straight pipe it needs."""
    prep: EndPrep = end_prep(code)
    takes: dict[str, float] = {}
    needs_mm = 0.0
    for reference in prep.measured_to:
        effect = end_effect(EndChoice(code, reference), pipe=row, root_gap_mm=gap_mm)
        needs_mm = max(needs_mm, effect.minimum_straight_mm)
        if not has_errors(effect.findings):
            takes[reference] = effect.deduction_mm
    return {"takes_mm": takes, "needs_mm": needs_mm}
