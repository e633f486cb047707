"""What every end preparation answers: what it takes off the leg, what the shop does, what stops it."""

from dataclasses import dataclass
from math import isfinite
from typing import Literal, Protocol

from geometry.findings import Finding, error
from geometry.tables import PipeRow, RootProcess

MEASURED_TO = ("pipe_end", "coupling_center", "fitting_center", "flange_face", "saddle_wall")
"""Where a leg can be measured to, from the PI."""

REFERENCE_WORDS = {
    "pipe_end": "pipe end",
    "coupling_center": "coupling center",
    "fitting_center": "center of the threaded fitting",
    "flange_face": "flange face",
    "saddle_wall": "saddle wall",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OnMain:
    """The main that a saddle end sits on; `included_deg` lies between the branch and the main."""

    od_mm: float
    wall_mm: float
    included_deg: float = 90.0
    offset_mm: float = 0.0
    seat: Literal["set-on", "set-in"] = "set-on"
    edge: Literal["torch square", "inside", "outside"] = "torch square"


@dataclass(frozen=True, slots=True)
class EndChoice:
    """How one end is to be made and where its leg was measured to.

    Args:
        prep: code of the end preparation, one of ``END_PREPS``.
        measured_to: one of ``MEASURED_TO`` that this preparation accepts; never assumed.
        field_trim_mm: extra pipe left on for the field to trim, plain and beveled ends only.
        coupling: ``flexible`` or ``rigid``, needed where a grooved leg is measured to the coupling center.
        coupling_gap_mm: end separation from the sheet of the coupling bought, instead of the generic one.
        groover_straight_mm: shortest piece that the shop's own groover holds, instead of the generic one.
        flange_length_mm: face to bevel of the weld-neck flange bought, instead of the class 150 table.
        flange_setback_mm: pipe end back from the face of a slip-on flange, instead of wall + 1/8 in.
        flange_class: pressure class of the flange.
        root_gap_mm: root gap between pipe and weld-neck flange; None is the shop's 3/32 in.
        fitting_face_mm: center to face of the threaded fitting, needed where measured to its center.
        engagement_mm: thread engagement, instead of the handbook's.
        root_process: process of the root pass, which sets the bevel.
        on_main: the main under a saddle end.

    """

    prep: str
    measured_to: str
    field_trim_mm: float = 0.0
    coupling: Literal["flexible", "rigid"] | None = None
    coupling_gap_mm: float | None = None
    groover_straight_mm: float | None = None
    flange_length_mm: float | None = None
    flange_setback_mm: float | None = None
    flange_class: str = "150"
    root_gap_mm: float | None = None
    fitting_face_mm: float | None = None
    engagement_mm: float | None = None
    root_process: RootProcess = "SMAW"
    on_main: OnMain | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EndEffect:
    """What an end does to its leg: cut = leg - deduction (a negative deduction lengthens).

    ``beyond_pipe_mm`` is how far the finished end stands beyond the cut pipe: the face of a flange, else 0.
    ``minimum_straight_mm`` is the shortest straight pipe that this end can be made on, 0 where there is none;
    ``minimum_straight_source`` says where that figure is from. ``words`` are the ticket's.
    """

    deduction_mm: float
    operations: tuple[str, ...]
    minimum_straight_mm: float = 0.0
    minimum_straight_source: str = ""
    beyond_pipe_mm: float = 0.0
    words: str = ""
    findings: tuple[Finding, ...] = ()


class EndPrep(Protocol):
    """One way to prepare an end: code for programs, word for people, references it can be measured to."""

    @property
    def code(self) -> str:
        """The code for programs."""

    @property
    def word(self) -> str:
        """The trade's word."""

    @property
    def measured_to(self) -> tuple[str, ...]:
        """The references that a leg can be measured to."""

    @property
    def operations(self) -> tuple[str, ...]:
        """What the shop does, in order."""

    def effect(self, pipe: PipeRow, choice: EndChoice) -> EndEffect:
        """Return what the end does to its leg; an error finding says what is missing or can't be."""


def choice_findings(prep: EndPrep, choice: EndChoice, *, takes_trim: bool = False) -> tuple[Finding, ...]:
    """Return the errors in what every end is asked: its reference, field trim and given dimensions."""
    found = [*_reference_findings(prep, choice)]
    if choice.root_process not in ("SMAW", "GTAW"):
        text = f'No root process "{choice.root_process}": choose SMAW (also for GMAW) or GTAW.'
        found.append(error("root_process_unknown", text))
    for name, value in (
        ("field trim", choice.field_trim_mm),
        ("coupling gap", choice.coupling_gap_mm),
        ("groover's shortest piece", choice.groover_straight_mm),
        ("flange length", choice.flange_length_mm),
        ("flange set-back", choice.flange_setback_mm),
        ("root gap", choice.root_gap_mm),
        ("center to face of the fitting", choice.fitting_face_mm),
        ("thread engagement", choice.engagement_mm),
    ):
        if value is not None and not (isfinite(value) and value >= 0):
            found.append(error("end_dimension_bad", f"The {name} must be zero or more: write what was measured."))
    if choice.field_trim_mm > 0 and not takes_trim:
        found.append(
            error(
                "field_trim_refused",
                f"A {prep.word} end can't be left long for field trim: the trim would cut it off. "
                "Choose a plain or beveled end, or no trim.",
            )
        )
    return tuple(found)


def _reference_findings(prep: EndPrep, choice: EndChoice) -> tuple[Finding, ...]:
    if choice.measured_to in prep.measured_to:
        return ()
    accepted = " or ".join(REFERENCE_WORDS[code] for code in prep.measured_to)
    if not choice.measured_to:
        said = f"It isn't said what the leg of the {prep.word} end was measured to"
        return (error("measured_to_missing", f"{said}: choose {accepted}."),)
    given = REFERENCE_WORDS.get(choice.measured_to, f'"{choice.measured_to}"')
    return (error("measured_to_unfit", f"A {prep.word} end can't be measured to the {given}: choose {accepted}."),)
