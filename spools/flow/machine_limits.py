"""What a bench or machine can take: sizes by their name, and where it says so, outside diameter and wall."""

from collections.abc import Iterable
from dataclasses import dataclass

from geometry.tables import UnknownPipe, pipe
from geometry.tables.odd_sizes import is_odd

SLACK_MM = 0.05  # a limit that was typed as the pipe's own diameter lets that pipe through


@dataclass(frozen=True, slots=True)
class Takes:
    """The sizes that fit (none: any), the outside diameters from and to, and the thickest wall; None is no limit."""

    sizes: tuple[str, ...] = ()
    od_from_mm: float | None = None
    od_to_mm: float | None = None
    wall_to_mm: float | None = None

    @property
    def says_diameters(self) -> bool:
        """Tell whether it is written which outside diameters fit, so that an odd size can be judged."""
        return self.od_from_mm is not None or self.od_to_mm is not None

    @property
    def words(self) -> str:
        """The limits in words.

        >>> Takes(od_from_mm=60.325, od_to_mm=219.075, wall_to_mm=12.7).words
        'outside diameter from 2.375 in to 8.625 in, wall up to 0.5 in'
        """
        between = [("from ", self.od_from_mm), ("to ", self.od_to_mm)]
        ods = " ".join(f"{word}{_inches(mm)}" for word, mm in between if mm is not None)
        wall = f"wall up to {_inches(self.wall_to_mm)}" if self.wall_to_mm is not None else ""
        return ", ".join(filter(None, (f"outside diameter {ods}" if ods else "", wall)))

    def refusal(self, nps: str, schedule: str = "") -> str:
        """Return why a pipe doesn't fit, in words that follow a bench's name; nothing where it does.

        >>> throat = Takes(od_to_mm=219.1)
        >>> throat.refusal("8", "40"), throat.refusal("OD 9.5", "W 0.25")
        ('', 'takes up to 8.626 in outside diameter, this is 9.5 in')

        A nominal size goes by the list of sizes and by the limits, an odd one by the limits where there are any.
        """
        odd = is_odd(nps)
        if self.sizes and nps not in self.sizes and not (odd and self.says_diameters):
            listed = f"takes NPS {', '.join(self.sizes)}"
            return f"{listed}; which outside diameters, is not written down" if odd else f"{listed}, not NPS {nps}"
        try:
            row = pipe(nps, schedule)
        except UnknownPipe:
            return ""
        if self.od_to_mm is not None and row.od_mm > self.od_to_mm + SLACK_MM:
            return f"takes up to {_inches(self.od_to_mm)} outside diameter, this is {_inches(row.od_mm)}"
        if self.od_from_mm is not None and row.od_mm < self.od_from_mm - SLACK_MM:
            return f"takes {_inches(self.od_from_mm)} outside diameter and up, this is {_inches(row.od_mm)}"
        if self.wall_to_mm is not None and row.wall_mm > self.wall_to_mm + SLACK_MM:
            return f"takes up to {_inches(self.wall_to_mm)} wall, this is {_inches(row.wall_mm)}"
        return ""


@dataclass(frozen=True, slots=True)
class Machine:
    """A bench as the check needs it: what it is called in a sentence, the operations it names, what it takes."""

    called: str
    operations: tuple[str, ...]
    takes: Takes


def none_takes(operation: str, nps: str, schedule: str, machines: Iterable[Machine]) -> str:
    """Return why no machine that names an operation takes a pipe; nothing where one does, or none names it.

    >>> saw = Machine("Saw", ("cut",), Takes(od_to_mm=219.1))
    >>> none_takes("cut", "10", "40", [saw])
    'Saw takes up to 8.626 in outside diameter, this is 10.75 in'
    """
    able = [machine for machine in machines if operation in machine.operations]
    refusals = [machine.takes.refusal(nps, schedule) for machine in able]
    if not able or not all(refusals):
        return ""
    return "; ".join(f"{machine.called} {why}" for machine, why in zip(able, refusals, strict=True))


def _inches(length_mm: float) -> str:
    return f"{round(length_mm / 25.4, 3):g} in"
