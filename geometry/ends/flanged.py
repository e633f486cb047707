"""Flanged ends: slip-on and weld-neck."""

from geometry.ends.base import EndChoice, EndEffect, choice_findings
from geometry.ends.beveled import bevel_row, bevel_words
from geometry.findings import Figure, Finding, caution, error
from geometry.tables import ROOT_GAP_MM, PipeRow, UnknownPipe, all_weld_necks, weld_neck

SLIP_ON_CLEARANCE_MM = 3.175
"""1/8 in: a slip-on's pipe stays back from the face by wall + 1/8 in. Source: trade practice in two public texts."""

NOT_WEIGHED = caution(
    "flange_not_weighed", "The flange isn't in the spool's weight: add the figure of the one bought before lifting it."
)


class FlangedSlipOn:
    """Slip-on flange: the pipe end stays back from the face, so that the inner weld stays off the gasket."""

    code = "flanged_slip_on"
    word = "slip-on flanged"
    measured_to = ("flange_face", "pipe_end")
    operations = ("cut", "flange welded")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a slip-on flange on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> to_face = EndChoice("flanged_slip_on", "flange_face")
        >>> round(FlangedSlipOn().effect(pipe("12", "STD"), to_face).deduction_mm, 2)
        12.7
        """
        own_mm = choice.flange_setback_mm
        setback_mm = pipe.wall_mm + SLIP_ON_CLEARANCE_MM if own_mm is None else own_mm
        return EndEffect(
            deduction_mm=setback_mm if choice.measured_to == "flange_face" else 0.0,
            operations=self.operations,
            beyond_pipe_mm=setback_mm,
            words="slip-on flange, pipe back from the face",
            findings=(*choice_findings(self, choice), *_setback_findings(pipe, own_mm, setback_mm), NOT_WEIGHED),
        )


class FlangedWeldNeck:
    """Weld-neck flange: its length through hub and one root gap come off a leg measured to the face."""

    code = "flanged_weld_neck"
    word = "weld-neck flanged"
    measured_to = ("flange_face", "pipe_end")
    operations = ("cut", "beveled", "flange welded")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a weld-neck flange on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> to_face = EndChoice("flanged_weld_neck", "flange_face", root_gap_mm=2.4)
        >>> round(FlangedWeldNeck().effect(pipe("4", "40"), to_face).deduction_mm, 2)
        78.6
        """
        length_mm, length_findings = _weld_neck_mm(pipe, choice)
        gap_mm = ROOT_GAP_MM if choice.root_gap_mm is None else choice.root_gap_mm
        beyond_mm = length_mm + gap_mm
        return EndEffect(
            deduction_mm=beyond_mm if choice.measured_to == "flange_face" else 0.0,
            operations=self.operations,
            beyond_pipe_mm=beyond_mm,
            words=f"weld-neck flange, {bevel_words(bevel_row(pipe, choice))}",
            findings=(*choice_findings(self, choice), *length_findings, *_gap_findings(choice), NOT_WEIGHED),
        )


def _setback_findings(pipe: PipeRow, own_mm: float | None, setback_mm: float) -> tuple[Finding, ...]:
    if own_mm is not None:
        return ()
    if pipe.nps not in {row.nps for row in all_weld_necks()}:
        text = f"ASME B16.5 has no flange for NPS {pipe.nps}: give the set-back of the flange bought."
        return (error("flange_size_unknown", text),)
    text = "Slip-on set back from the face by wall + 1/8 in, trade practice: check it against the line class."
    return (caution("slip_on_setback_generic", text, Figure("set-back", setback_mm, "mm")),)


def _weld_neck_mm(pipe: PipeRow, choice: EndChoice) -> tuple[float, tuple[Finding, ...]]:
    if choice.flange_length_mm is not None:
        return choice.flange_length_mm, ()
    try:
        return weld_neck(pipe.nps, flange_class=choice.flange_class).face_to_bevel_mm, ()
    except UnknownPipe as unknown:
        text = f"{str(unknown).removesuffix(': measure the flange.')}. Give the flange's own length, face to bevel."
        return 0.0, (error("weld_neck_unknown", text),)


def _gap_findings(choice: EndChoice) -> tuple[Finding, ...]:
    if choice.root_gap_mm is not None:
        return ()
    return (caution("flange_gap_default", "Root gap at the flange taken as 3/32 in: the WPS governs."),)
