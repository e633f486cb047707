"""How far each instrument and each shop operation can be off: one sigma each, with its source."""

from dataclasses import dataclass

INCH_MM = 25.4
FOOT_MM = 304.8
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Sigma:
    """One standard deviation, its unit (``mm`` or ``deg``), what it is of, and where it comes from."""

    name: str
    value: float
    unit: str
    words: str
    source: str


TAPE = Sigma("tape", INCH_MM / 16, "mm", "A leg read on the tape to 1/16 in", PRACTICE)
PROTRACTOR = Sigma("protractor", 0.5, "deg", "A plain protractor of 1 degree, read to half a graduation", PRACTICE)
CLOSING = Sigma(
    "closing", 0.08 * INCH_MM, "mm", "A check measure from end to end, in the open, from the hook", PRACTICE
)
JIG_PLAY = Sigma("jig_play", INCH_MM / 32, "mm", "Play of the jig's pivot along a leg", PRACTICE)
CUT = Sigma("cut", INCH_MM / 32, "mm", "A saw cut held to 1/16 in as a two-sigma limit", PRACTICE)
FIT_UP = Sigma("fit_up", INCH_MM / 32, "mm", "Root gap and pull of one tacked weld, along the pipe", PRACTICE)
FIT_UP_TURN = Sigma(
    "fit_up_turn",
    0.1,
    "deg",
    "Small turn of one weld at fit-up",
    "derived: PFI ES-3 allows 1/8 in, 0.30 degree at the end of 24 in; as two sigmas, shared by two welds",
)
FITTING_TURN = Sigma(
    "fitting_turn", 0.05, "deg", "What fit-up doesn't take out of the cut plane of a trimmed fitting", PRACTICE
)
SHOT = Sigma("shot", INCH_MM / 16, "mm", "Each coordinate of a shot on a pipe's axis, tape or total station", PRACTICE)
SIGMAS = (TAPE, PROTRACTOR, CLOSING, JIG_PLAY, CUT, FIT_UP, FIT_UP_TURN, FITTING_TURN, SHOT)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuringSigmas:
    """The sigmas a check is judged by: a shop may set its own.

    ``tape_mm`` of each leg, ``protractor_deg`` of the included angle, ``closing_mm`` of C, D and E alike.
    """

    tape_mm: float = TAPE.value
    protractor_deg: float = PROTRACTOR.value
    closing_mm: float = CLOSING.value

    def __post_init__(self) -> None:
        """Refuse a sigma that is not above zero: it would trust one number without end."""
        for value in (self.tape_mm, self.protractor_deg, self.closing_mm):
            if not 0.0 < value < 1e6:
                raise ValueError("A sigma must be above zero: set what the instrument really holds, such as 1/16 in.")


USUAL_SIGMAS = MeasuringSigmas()
