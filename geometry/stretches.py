"""What is left of every leg between its bends and ends, and the uncut runs of pipe that makes."""

from dataclasses import dataclass, replace

from geometry.bends import Made
from geometry.ends import EndChoice, EndEffect, end_prep
from geometry.lengths import Graduation
from geometry.room import SLACK_MM, Run
from geometry.tables import PipeRow


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolEnd:
    """One finished end: its prep, what it takes off the leg, what the shop does, the straight pipe it needs.

    ``beyond_mm`` is what the finished spool has past the pipe's own end (a flange), 0 for most ends.
    """

    prep: str
    takes_mm: float
    operations: tuple[str, ...] = ()
    needs_mm: float = 0.0
    beyond_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frameup:
    """All that a spool is put together from: pipe, legs, twists, bends made up, both ends, root gap, graduation.

    ``weld_prep`` and ``weld_operations`` are those of every pipe end at a weld inside the spool.
    """

    pipe: PipeRow
    legs_mm: tuple[float, ...]
    twists_deg: tuple[float, ...]
    makes: tuple[Made, ...]
    end_a: SpoolEnd
    end_b: SpoolEnd
    gap_mm: float
    graduation: Graduation
    weld_prep: str = "beveled"
    weld_operations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One uncut run of pipe: the legs it lies on, what is left of each, the bends bent into it, its slanted cuts.

    ``roll_deg`` is the roll between the bends at its two ends.
    """

    first_leg: int
    last_leg: int
    straights_mm: tuple[float, ...]
    arcs: tuple[Made, ...] = ()
    cuts_deg: tuple[float, float] = (0.0, 0.0)
    roll_deg: float = 0.0
    needs_mm: float = 0.0
    code_mm: float = 0.0
    mark: str = ""
    name: str = ""

    @property
    def run(self) -> Run:
        """The run as the room check asks for it."""
        return Run(
            name=self.name,
            straights_mm=self.straights_mm,
            needs_mm=self.needs_mm,
            cuts_deg=self.cuts_deg,
            roll_deg=self.roll_deg,
            code_mm=self.code_mm,
        )


def end_effect(choice: EndChoice, *, pipe: PipeRow, root_gap_mm: float) -> EndEffect:
    """Return what an end does; a weld-neck flange takes the spool's own root gap, in mm, unless it names another.

    Raises:
        UnknownEnd: no such preparation.

    """
    if choice.prep == "flanged_weld_neck" and choice.root_gap_mm is None:
        choice = replace(choice, root_gap_mm=root_gap_mm)
    return end_prep(choice.prep).effect(pipe, choice)


def straights_mm(frame: Frameup) -> tuple[float, ...]:
    """Return the straight pipe left of every leg, in mm: the leg less what its two sides take."""
    sides = [made.take_off_mm + made.leg_gap_mm for made in frame.makes]
    near, far = [frame.end_a.takes_mm, *sides], [*sides, frame.end_b.takes_mm]
    return tuple(leg - start - end for leg, start, end in zip(frame.legs_mm, near, far, strict=True))


def stretches(frame: Frameup) -> tuple[Stretch, ...]:
    """Return the uncut runs of pipe in order from end A; bent pipe keeps its legs in one run.

    A middle leg of just both take-offs and one gap has no pipe: fitting is welded to fitting and its run is left out.
    """
    straights = straights_mm(frame)
    last = len(straights) - 1
    found: list[Stretch] = []
    first = 0
    for index in range(last + 1):
        if index < last and frame.makes[index].arc is not None:
            continue
        if not _is_fitting_to_fitting(frame, straights, first, index):
            found.append(_stretch(frame, straights, first, index))
        first = index + 1
    return tuple(found)


def _is_fitting_to_fitting(frame: Frameup, straights: tuple[float, ...], first: int, last: int) -> bool:
    if first != last or first == 0 or last == len(straights) - 1:
        return False
    before, after = frame.makes[first - 1], frame.makes[last]
    return not (before.cut_angle_deg or after.cut_angle_deg) and abs(straights[first] + frame.gap_mm) <= SLACK_MM


def _stretch(frame: Frameup, straights: tuple[float, ...], first: int, last: int) -> Stretch:
    end = len(straights) - 1
    before = frame.makes[first - 1] if first else None
    after = frame.makes[last] if last < end else None
    needs = (frame.end_a.needs_mm if before is None else 0.0, frame.end_b.needs_mm if after is None else 0.0)
    between = before is not None and after is not None and first == last
    mark, name = _called(first, last, end)
    return Stretch(
        first_leg=first,
        last_leg=last,
        straights_mm=straights[first : last + 1],
        arcs=frame.makes[first:last],
        cuts_deg=(before.cut_angle_deg if before else 0.0, after.cut_angle_deg if after else 0.0),
        roll_deg=frame.twists_deg[first - 1] if between else 0.0,
        needs_mm=max(needs),
        code_mm=max(made.shortest_straight_mm if made else 0.0 for made in (before, after)),
        mark=mark,
        name=name,
    )


def _called(first: int, last: int, end: int) -> tuple[str, str]:
    """Return a run's mark on the steel and its name in a sentence."""
    if first == 0:
        return "A", "The spool's pipe" if last == end else "Leg A"
    return ("B", "Leg B") if last == end else (f"P{first}", f"Pipe P{first} between two bends")
