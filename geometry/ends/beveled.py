"""A beveled end for a butt weld: ASME B16.25 form by wall."""

from geometry.ends.base import EndChoice, EndEffect, choice_findings
from geometry.findings import Figure, Finding, caution
from geometry.lengths import SIXTEENTH, format_length
from geometry.tables import BevelRow, PipeRow, bevel


class Beveled:
    """Beveled for a butt weld; the leg runs to the land, not to the outer edge of the bevel."""

    code = "beveled"
    word = "beveled"
    measured_to = ("pipe_end",)
    operations = ("cut", "beveled")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a beveled end on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> Beveled().effect(pipe("4", "40"), EndChoice("beveled", "pipe_end")).words
        'bevel 37-1/2 degrees, land 1/16"'
        """
        row = bevel_row(pipe, choice)
        return EndEffect(
            deduction_mm=-choice.field_trim_mm,
            operations=self.operations,
            words=bevel_words(row),
            findings=choice_findings(self, choice, takes_trim=True)
            + _form_findings(row, pipe)
            + _trim_findings(choice),
        )


def bevel_row(pipe: PipeRow, choice: EndChoice) -> BevelRow:
    """Return the bevel of a pipe; an unknown root process is an error finding elsewhere and beveled as SMAW here."""
    return bevel(wall_mm=pipe.wall_mm, process="GTAW" if choice.root_process == "GTAW" else "SMAW")


def bevel_words(row: BevelRow) -> str:
    """Say a bevel as the ticket does."""
    if row.bevel_deg is None:
        return row.form
    parts = [f"{row.form} {_degrees(row.bevel_deg)}".replace("single bevel", "bevel")]
    if row.second_bevel_deg is not None and row.break_height_mm is not None:
        height = format_length(row.break_height_mm, graduation=SIXTEENTH)
        parts.append(f"{_degrees(row.second_bevel_deg)} from {height} above the inside")
    if row.land_mm is not None:
        parts.append(f"land {format_length(row.land_mm, graduation=SIXTEENTH)}")
    return ", ".join(parts)


def _degrees(degrees: float) -> str:
    whole, half = int(degrees), degrees - int(degrees)
    return f"{whole}-1/2 degrees" if half else f"{whole} degrees"


def _form_findings(row: BevelRow, pipe: PipeRow) -> tuple[Finding, ...]:
    wall = Figure("wall", pipe.wall_mm, "mm")
    if row.bevel_deg is None:
        text = "Wall is 1/8 in or less: ASME B16.25 leaves it square or slightly chamfered. Follow the WPS."
        return (caution("bevel_thin_wall", text, wall),)
    if row.second_bevel_deg is not None:
        text = f"Heavy wall: {bevel_words(row)} (ASME B16.25). Check with the WPS before beveling."
        return (caution("bevel_compound", text, wall),)
    return ()


def _trim_findings(choice: EndChoice) -> tuple[Finding, ...]:
    if choice.field_trim_mm <= 0:
        return ()
    return (caution("bevel_trimmed_off", "Field trim takes this bevel off: bevel it again in the field."),)
