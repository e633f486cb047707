"""What a fitter must know of an end besides its name: the main under a saddle, the flange and where its face lies."""

from geometry.ends import EndChoice
from geometry.ends.base import OnMain
from geometry.stretches import end_effect
from spools.models import Spool
from spools.say_lengths import say_length
from spools.stored_solutions import Solution

HEEL_NOT_READ = (
    "Where the heel lies around the pipe is not in the reading: hold the pipe at the main with its up mark up, mark "
    "the side of the main's wider included angle, and start line 0 there."
)


def end_notes(spool: Spool, solution: Solution) -> tuple[str, ...]:
    """Return one sentence for each end that is a saddle or flanged, in the job's own units."""
    units = spool.tie_in.job.units
    ends = (("A", solution.request.end_a), ("B", solution.request.end_b))
    said = ((name, _words(end, solution, units)) for name, end in ends)
    return tuple(f"End {name}: {words}." for name, words in said if words)


def _words(end: EndChoice, solution: Solution, units: str) -> str:
    if end.prep == "saddle" and end.on_main is not None:
        return f"saddle, {saddle_words(end.on_main, units)}; cut to the longest tip, then to its wrap"
    if end.prep == "flanged_slip_on":
        return f"class {end.flange_class} slip-on flange, pipe {_beyond(end, solution, units)} back from its face"
    if end.prep == "flanged_weld_neck":
        beyond = _beyond(end, solution, units)
        return f"class {end.flange_class} weld-neck flange, {beyond} from pipe to face, gap included"
    return ""


def _beyond(end: EndChoice, solution: Solution, units: str) -> str:
    request = solution.request
    effect = end_effect(end, pipe=request.pipe, root_gap_mm=request.root_gap_mm)
    return say_length(effect.beyond_pipe_mm, units)


def saddle_words(main: OnMain, units: str) -> str:
    """Return how a branch sits on its main: the main's size, the included angle, the seat, the offset.

    The offset's side is said for a person who stands at the heel and faces the crotch, whichever way the main runs.
    """
    size = f"main {say_length(main.od_mm, units)} outside"
    place = f"{size}, included angle {main.included_deg:g}°, {main.seat}"
    if abs(main.offset_mm) < 0.5:
        return f"{place}, on its center line"
    left = (main.offset_mm > 0) == (main.included_deg <= 90.0)
    return (
        f"{place}, {say_length(abs(main.offset_mm), units)} {'left' if left else 'right'} of center facing the crotch"
    )
