"""A threaded end: tapered pipe thread into a fitting."""

from geometry.ends.base import EndChoice, EndEffect, choice_findings
from geometry.findings import Figure, Finding, caution, error
from geometry.tables import PipeRow, ThreadRow, UnknownPipe, thread


class Threaded:
    """Threaded; from a fitting's center its face comes off and the engagement goes back on."""

    code = "threaded"
    word = "threaded"
    measured_to = ("pipe_end", "fitting_center")
    operations = ("cut", "threaded")

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return the effect of a threaded end on its leg, in mm.

        >>> from geometry.tables import pipe
        >>> to_center = EndChoice("threaded", "fitting_center", fitting_face_mm=57.15)
        >>> round(Threaded().effect(pipe("2", "40"), to_center).deduction_mm, 2)
        38.1
        """
        findings = choice_findings(self, choice)
        try:
            row = thread(pipe.nps)
        except UnknownPipe as unknown:
            return EndEffect(
                deduction_mm=0.0,
                operations=self.operations,
                findings=(*findings, error("thread_unknown", str(unknown))),
            )
        deduction_mm, more = _deduction_mm(row, choice)
        return EndEffect(
            deduction_mm=deduction_mm,
            operations=self.operations,
            words="NPT thread",
            findings=findings + more + _wall_findings(pipe),
        )


def _deduction_mm(row: ThreadRow, choice: EndChoice) -> tuple[float, tuple[Finding, ...]]:
    if choice.measured_to != "fitting_center":
        return 0.0, ()
    if choice.fitting_face_mm is None:
        text = "Measured to the center of a threaded fitting: give that fitting's center to face."
        return 0.0, (error("fitting_face_missing", text),)
    if choice.engagement_mm is not None:
        return choice.fitting_face_mm - choice.engagement_mm, ()
    text = "Thread engagement is the handbook's normal one: one turn more or less moves the end."
    engagement, turn = Figure("engagement", row.working_engagement_mm, "mm"), Figure("one turn", row.turn_mm, "mm")
    return choice.fitting_face_mm - row.working_engagement_mm, (caution("engagement_normal", text, engagement, turn),)


def _wall_findings(pipe: PipeRow) -> tuple[Finding, ...]:
    """Refuse light wall. Common practice, no source."""
    if pipe.schedule not in ("10", "10S"):
        return ()
    text = f"Do not thread {pipe.name}: a thread would cut most of its wall. Choose schedule 40 or heavier."
    return (error("wall_under_thread", text, Figure("wall", pipe.wall_mm, "mm")),)
