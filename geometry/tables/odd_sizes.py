"""Pipe of no nominal size: an outside diameter and a wall that somebody measured, written as a size of their own."""

import re

from geometry.tables.sizes import UnknownPipe

# Written short enough to stand where a nominal size and a schedule stand: "OD 5.25" and "W 0.25", in inches.
_OD = re.compile(r"OD ?([0-9]{1,2}(?:\.[0-9]{1,4})?)", re.IGNORECASE)
_WALL = re.compile(r"W ?([0-9]?(?:\.[0-9]{1,4})?)", re.IGNORECASE)
SMALLEST_OD_IN, LARGEST_OD_IN = 0.4, 48.0
THINNEST_IN = 0.03


def is_odd(nps: str) -> bool:
    """Tell whether a size is written as an outside diameter.

    >>> is_odd("OD 5.25"), is_odd("6")
    (True, False)
    """
    return _OD.fullmatch(str(nps).strip()) is not None


def write_odd(*, od_mm: float, wall_mm: float) -> tuple[str, str]:
    """Return an outside diameter and a wall, both in mm, as a size and a schedule, to 0.001 in.

    >>> write_odd(od_mm=133.35, wall_mm=6.35)
    ('OD 5.25', 'W 0.25')

    Raises UnknownPipe for what can be no pipe.
    """
    od_in, wall_in = od_mm / 25.4, wall_mm / 25.4
    if not SMALLEST_OD_IN <= od_in <= LARGEST_OD_IN:
        raise UnknownPipe(f"An outside diameter of {od_in:.3f} in is no pipe here: {SMALLEST_OD_IN} to 48 in.")
    if not THINNEST_IN <= wall_in < od_in / 2:
        raise UnknownPipe(f"A wall of {wall_in:.3f} in doesn't go with {od_in:.3f} in outside: measure both again.")
    return f"OD {od_in:.3f}".rstrip("0").rstrip("."), f"W {wall_in:.3f}".rstrip("0").rstrip(".")


def read_odd(nps: str, schedule: str) -> tuple[float, float]:
    """Return the outside diameter and the wall of an odd size, in inches.

    >>> read_odd("OD 5.25", "W 0.25")
    (5.25, 0.25)

    Raises UnknownPipe where the wall isn't written, or can be none of that diameter.
    """
    od, wall = _OD.fullmatch(str(nps).strip()), _WALL.fullmatch(str(schedule).strip())
    if od is None or wall is None or not wall[1]:
        raise UnknownPipe(f'"{nps}" needs its wall in inches, such as W 0.25, not "{schedule}".')
    od_in, wall_in = float(od[1]), float(wall[1])
    write_odd(od_mm=od_in * 25.4, wall_mm=wall_in * 25.4)
    return od_in, wall_in


def say_size(nps: str) -> str:
    """Return a size as it is called.

    >>> say_size("6"), say_size("OD 5.25")
    ('NPS 6', 'OD 5.25 in')
    """
    return f"{nps} in" if is_odd(nps) else f"NPS {nps}"


def say_pipe(nps: str, schedule: str) -> str:
    """Return a pipe as it is called.

    >>> say_pipe("6", "40"), say_pipe("OD 5.25", "W 0.25")
    ('NPS 6 Sch 40', 'OD 5.25 in, wall 0.25 in')
    """
    if not is_odd(nps):
        return f"NPS {nps} Sch {schedule}"
    return f"{nps} in, wall {schedule.removeprefix('W').strip()} in"
