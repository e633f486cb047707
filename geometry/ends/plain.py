"""A plain end: cut square and left so."""

from geometry.ends.base import EndChoice, EndEffect, choice_findings
from geometry.tables import PipeRow


class Plain:
    """Cut square; field trim lengthens it."""

    code = "plain"
    word = "plain"
    measured_to = ("pipe_end",)
    operations = ("cut",)

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a plain end on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> Plain().effect(pipe("4", "40"), EndChoice("plain", "pipe_end", field_trim_mm=50.0)).deduction_mm
        -50.0
        """
        return EndEffect(
            deduction_mm=-choice.field_trim_mm,
            operations=self.operations,
            words="cut square",
            findings=choice_findings(self, choice, takes_trim=True),
        )
