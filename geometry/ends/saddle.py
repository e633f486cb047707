"""A saddle end: the branch coped to sit on a main."""

from math import radians, sin, sqrt

from geometry.ends.base import EndChoice, EndEffect, OnMain, choice_findings
from geometry.findings import error
from geometry.tables import PipeRow


class SaddleEnd:
    """Coped to a main; the leg runs to where its center line meets the main's outside wall.

    The cut is the longest one, to the tip of the cope, so set-on ends reach past the measured point at the sides.
    No root gap is taken: it is the field's or the WPS's to set at the main.
    """

    code = "saddle"
    word = "saddle"
    measured_to = ("saddle_wall",)
    operations = ("cut", "coped")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a saddle on its leg, in mm; a negative deduction is the tip's reach past the wall.

        >>> from geometry.ends.base import OnMain
        >>> from geometry.tables import pipe
        >>> square = OnMain(od_mm=323.85, wall_mm=9.525, edge="outside")
        >>> effect = SaddleEnd().effect(pipe("4", "40"), EndChoice("saddle", "saddle_wall", on_main=square))
        >>> round(-effect.deduction_mm, 4) == round(161.925 - (161.925**2 - 57.15**2) ** 0.5, 4)
        True
        """
        # the wraps are loaded by the few spools that have a saddle, not by every one
        from geometry.wraps.lines import WrapError  # noqa: PLC0415

        findings = choice_findings(self, choice)
        if choice.on_main is None:
            text = "Nothing is said about the main under the saddle: give its OD, its wall and the included angle."
            missing = error("saddle_main_missing", text)
            return EndEffect(deduction_mm=0.0, operations=self.operations, findings=(*findings, missing))
        try:
            deduction_mm = _tip_mm(pipe, choice.on_main) - wall_from_main_center_mm(choice.on_main)
        except WrapError as refused:
            return EndEffect(
                deduction_mm=0.0,
                operations=self.operations,
                findings=(*findings, error("saddle_refused", str(refused))),
            )
        words = f"saddle, {choice.on_main.seat}, longest length to the tip"
        return EndEffect(deduction_mm=deduction_mm, operations=self.operations, words=words, findings=findings)


def wall_from_main_center_mm(on_main: OnMain) -> float:
    """Return how far along the branch's center line the main's outside wall stands from the main's center, in mm."""
    radius_mm, offset_mm = on_main.od_mm / 2, on_main.offset_mm
    return sqrt(radius_mm * radius_mm - offset_mm * offset_mm) / sin(radians(on_main.included_deg))


def _tip_mm(pipe: PipeRow, on_main: OnMain) -> float:
    """Refuses first (WrapError) what can't be saddled, so that the wall's distance exists after it."""
    from geometry.wraps.saddle import Saddle, tip_from_main_center_mm  # noqa: PLC0415

    return tip_from_main_center_mm(
        Saddle(
            main_od_mm=on_main.od_mm,
            main_wall_mm=on_main.wall_mm,
            branch_od_mm=pipe.od_mm,
            branch_wall_mm=pipe.wall_mm,
            included_deg=on_main.included_deg,
            offset_mm=on_main.offset_mm,
            seat=on_main.seat,
            edge=on_main.edge,
        )
    )
