"""A roll-grooved end for a coupling: AWWA C606."""

from geometry.ends.base import EndChoice, EndEffect, choice_findings
from geometry.findings import Figure, Finding, caution, error
from geometry.tables import GrooveRow, PipeRow, UnknownPipe, groove, nps_inches

GROOVER_STRAIGHT_MM = 203.2
"""8 in, the shortest piece a groover holds, for small pipe. From memory: the tool maker's figure governs."""

SMALL_NPS = 6.0
"""Up to here 8 in is thought of as small pipe's figure. From memory."""

GROOVER_STRAIGHT_SOURCE = "8 in, from memory for small pipe: ask the maker of the grooving tool"


class Grooved:
    """Roll grooved; half the coupling's gap comes off where the leg runs to the coupling center."""

    code = "grooved"
    word = "grooved"
    measured_to = ("pipe_end", "coupling_center")
    operations = ("cut", "grooved")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a grooved end on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> to_center = EndChoice("grooved", "coupling_center", coupling="flexible")
        >>> Grooved().effect(pipe("4", "40"), to_center).deduction_mm / 25.4
        0.0625
        """
        findings = choice_findings(self, choice)
        try:
            row = groove(pipe.nps)
        except UnknownPipe as unknown:
            return EndEffect(
                deduction_mm=0.0,
                operations=self.operations,
                findings=(*findings, error("groove_unknown", str(unknown))),
            )
        deduction_mm, gap_findings = _half_gap_mm(row, choice)
        own_mm = choice.groover_straight_mm
        return EndEffect(
            deduction_mm=deduction_mm,
            operations=self.operations,
            minimum_straight_mm=GROOVER_STRAIGHT_MM if own_mm is None else own_mm,
            minimum_straight_source=GROOVER_STRAIGHT_SOURCE if own_mm is None else "the shop's own groover",
            words="roll groove",
            findings=findings + _wall_findings(row, pipe) + gap_findings + _straight_findings(pipe, own_mm),
        )


def _half_gap_mm(row: GrooveRow, choice: EndChoice) -> tuple[float, tuple[Finding, ...]]:
    if choice.measured_to != "coupling_center":
        return 0.0, ()
    if choice.coupling_gap_mm is not None:
        return choice.coupling_gap_mm / 2, ()
    if choice.coupling not in ("flexible", "rigid"):
        text = "Measured to the coupling center, but not which coupling: choose flexible or rigid, or give its end gap."
        return 0.0, (error("coupling_missing", text),)
    gap_mm = row.flexible_gap_mm if choice.coupling == "flexible" else row.rigid_gap_mm
    text = (
        f"Half of a generic {choice.coupling} coupling's end gap is taken off: check it against the coupling's sheet."
    )
    return gap_mm / 2, (caution("coupling_gap_generic", text, Figure("gap", gap_mm, "mm")),)


def _straight_findings(pipe: PipeRow, own_mm: float | None) -> tuple[Finding, ...]:
    if own_mm is not None or nps_inches(pipe.nps) <= SMALL_NPS:
        return ()
    text = "The shortest piece a groover holds is taken as 8 in, a figure for small pipe: ask the tool's maker."
    return (caution("groover_straight_unsure", text, Figure("straight", GROOVER_STRAIGHT_MM, "mm")),)


def _wall_findings(row: GrooveRow, pipe: PipeRow) -> tuple[Finding, ...]:
    if pipe.wall_mm >= row.minimum_wall_mm - 1e-9:
        return ()
    text = (
        f"Do not roll groove {pipe.name}: its wall {pipe.wall_in:.3f} in is under the "
        f"{row.minimum_wall_mm / 25.4:.3f} in that a roll groove needs. Choose a heavier wall or another end."
    )
    return (
        error(
            "wall_under_groove",
            text,
            Figure("wall", pipe.wall_mm, "mm"),
            Figure("minimum wall", row.minimum_wall_mm, "mm"),
        ),
    )
