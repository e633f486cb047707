"""Is there pipe enough left beside the bends and the ends, and what would do where there isn't."""

from dataclasses import dataclass
from math import cos, hypot, radians, sin, tan

from geometry.bends import MAKE_UPS, BendChoice, Made, Turn
from geometry.findings import Figure, Finding, error, has_errors, warning
from geometry.lengths import MM_PER_INCH, format_length

SHORTEST_PIPE_MM = 2.0 * MM_PER_INCH
"""Shortest piece of pipe that can be cut, held and welded. Source: common practice, no source."""
SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One uncut length of pipe: the straights on its legs, the bends of bent pipe between them, and both its ends.

    ``legs`` names the legs it lies on, ``straights_mm`` what is left of each. ``needs_mm`` is the shortest straight
    that either end asks for, ``cuts_deg`` the slant of both ends from square, ``roll_deg`` the roll between them.
    ``code_mm`` is what the code wants left at the throat beside the bends at its ends.
    """

    name: str
    straights_mm: tuple[float, ...]
    needs_mm: float
    cuts_deg: tuple[float, float] = (0.0, 0.0)
    roll_deg: float = 0.0
    code_mm: float = 0.0

    def throat_mm(self, od_mm: float) -> float:
        """Return the shortest line along the pipe: what a groover or a clamp can really hold.

        Two slanted cuts rolled by t shorten it by OD/2 |tan a1 + tan a2 e^(it)|. Source: geometry.
        """
        first, second = (tan(radians(cut)) for cut in self.cuts_deg)
        if len(self.straights_mm) > 1:
            near, *between, far = self.straights_mm
            return min(near - od_mm / 2.0 * first, *between, far - od_mm / 2.0 * second)
        roll = radians(self.roll_deg)
        return self.straights_mm[0] - od_mm / 2.0 * hypot(first + second * cos(roll), second * sin(roll))


def short_runs(runs: tuple[Run, ...], *, od_mm: float, would_do: tuple[str, ...] | None = None) -> tuple[Finding, ...]:
    """Refuse every run that is too short at its throat, with the leg that would do and the make-ups that would.

    Args: the runs; the OD in mm; ``would_do``, the names of make-ups that fit, which are named in the finding.
    """
    found = []
    for run in runs:
        throat_mm = run.throat_mm(od_mm)
        needs_mm = max(run.needs_mm, SHORTEST_PIPE_MM)
        if throat_mm < needs_mm - SLACK_MM:
            found.append(_too_short(run, throat_mm=throat_mm, needs_mm=needs_mm, would_do=would_do))
        elif len(run.straights_mm) > 1 and throat_mm < od_mm - SLACK_MM:
            text = (
                f"{run.name} leaves {format_length(throat_mm)} of straight pipe beside a bend, under one OD: "
                "ask the bender what his clamp needs."
            )
            found.append(warning("bender_grip", text, Figure("straight", throat_mm, "mm")))
        elif throat_mm < run.code_mm - SLACK_MM:
            found.append(_short_for_the_code(run, throat_mm))
    return tuple(found)


def _short_for_the_code(run: Run, throat_mm: float) -> Finding:
    text = (
        f"{run.name} leaves {format_length(throat_mm)} at the throat beside the miter, and the code wants "
        f"{format_length(run.code_mm)} (ASME B31.3 304.2.3, from memory): ask the engineer."
    )
    return warning(
        "miter_end_short", text, Figure("left", throat_mm, "mm"), Figure("wanted by the code", run.code_mm, "mm")
    )


def _too_short(run: Run, *, throat_mm: float, needs_mm: float, would_do: tuple[str, ...] | None) -> Finding:
    left = f"{format_length(throat_mm)} of pipe" if throat_mm > 0.0 else "no pipe"
    where = " at the throat" if any(run.cuts_deg) else ""
    why = "its end needs" if run.needs_mm > SHORTEST_PIPE_MM else "the shortest piece is"
    do = _what_to_do(would_do)
    return error(
        "leg_too_short",
        f"{run.name} leaves {left}{where}; {why} {format_length(needs_mm)}: it must be "
        f"{format_length(needs_mm - throat_mm)} longer. {do}".rstrip(),
        Figure("left", throat_mm, "mm"),
        Figure("needed", needs_mm, "mm"),
    )


def _what_to_do(would_do: tuple[str, ...] | None) -> str:
    if would_do is None:
        return "Take a make-up with less take-off there, or join fitting to fitting."
    if not would_do:
        return "No make-up of this turn leaves enough: measure again, or join fitting to fitting."
    return f"These would do: {', '.join(would_do)}."


def make_ups_that_fit(
    turn: Turn, *, legs_mm: tuple[float, float], takes_mm: tuple[float, float], needs_mm: tuple[float, float]
) -> tuple[str, ...]:
    """Name the make-ups of one turn that leave pipe enough on both legs.

    Args: the turn; both legs from the PI in mm, what their far ends take, and the straight pipe those ends need.
    """
    fits = []
    for kind in MAKE_UPS:
        for choice in kind.candidates(turn.choice):
            made = kind.make(_asked(turn, choice))
            if not has_errors(made.findings) and _fits(made, turn, legs_mm, takes_mm, needs_mm):
                fits.append(kind.words(choice))
    return tuple(fits)


def _asked(turn: Turn, choice: BendChoice) -> Turn:
    return Turn(pipe=turn.pipe, turn_deg=turn.turn_deg, choice=choice, gap_mm=turn.gap_mm, kerf_mm=turn.kerf_mm)


def _fits(
    made: Made,
    turn: Turn,
    legs_mm: tuple[float, float],
    takes_mm: tuple[float, float],
    needs_mm: tuple[float, float],
) -> bool:
    near_mm = made.take_off_mm + made.leg_gap_mm + turn.pipe.od_mm / 2.0 * tan(radians(made.cut_angle_deg))
    return all(
        leg - take - near_mm >= max(need, SHORTEST_PIPE_MM) - SLACK_MM
        for leg, take, need in zip(legs_mm, takes_mm, needs_mm, strict=True)
    )
