"""Whether a piece made for one solution serves another: still good, to be cut down, or short, and by how much."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, inf, radians, sin, tan
from typing import Literal

from geometry.lengths import SIXTEENTH, Graduation, round_to
from geometry.pieces import Piece, PieceEnd
from geometry.tables import PipeRow, bevel, groove, thread

Verdict = Literal["good", "trim", "short", "no"]

SLACK_MM = 1e-6
_NEVER = inf


@dataclass(frozen=True, slots=True)
class MadePiece:
    """A piece as it lies on the floor.

    ``done`` are the operations made at each of its two ends besides the cut (``grooved``, ``beveled``, ...);
    ``welded`` says which ends are welded up already, so that nothing can come off there.
    """

    piece: Piece
    done: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())
    welded: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True)
class Serves:
    """What a made piece is worth for another solution.

    ``verdict``: ``good`` as it is; ``trim`` by ``off_mm``; ``short`` by ``off_mm``; ``no`` for the reason in ``why``
    (``kind``, ``pipe``, ``bend``, ``welded``, ``end``, ``groove``). ``off_mm`` of an elbow is along its heel; that of a
    ``no`` is how much the piece is over (or, below zero, under). ``at`` names the ends that are cut again (``end A``,
    ``weld 1``) and ``lost`` the operations that go with the cut there and must be made again or anew.
    """

    verdict: Verdict
    off_mm: float = 0.0
    at: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    why: str = ""


def serves(made: MadePiece, new: Piece, *, pipe: PipeRow, graduation: Graduation = SIXTEENTH) -> Serves:
    """Compare a made piece with what is needed now, on rounded cut lengths as the saw was and would be set.

    Args:
        made: the piece as it was made, with what is done at its ends.
        new: the piece that is needed.
        pipe: the pipe of the made piece.
        graduation: a difference from the exact new length of half a graduation or less is none.

    Returns:
        The verdict. A plane cut through the old steel must lie within it: going from one slant to another takes
        OD/2 times the difference of their tangents. Source: geometry. A groove (gasket seat and groove width) or a
        thread that is cut into must come off whole; a bevel or a cope is made again a little further back.

    >>> from geometry.pieces import PieceEnd
    >>> from geometry.tables import pipe
    >>> ends = (PieceEnd("end A", "plain"), PieceEnd("weld 1", "beveled", 0.0, ("cut", "beveled")))
    >>> old = Piece("A", "pipe", "6", "40", 500.0, 500.0, ends, 14.0)
    >>> new = Piece("A", "pipe", "6", "40", 490.475, 490.475, ends, 13.8)
    >>> answer = serves(MadePiece(old), new, pipe=pipe("6", "40"))
    >>> answer.verdict, round(answer.off_mm, 3), answer.at
    ('trim', 9.525, ('end A',))

    """
    old = made.piece
    if (old.nps, old.schedule) != (new.nps, new.schedule):
        return Serves("no", why="pipe")
    if old.kind != new.kind:
        return Serves("no", why="kind")
    if old.kind == "elbow":
        return _elbow(made, new, graduation)
    if old.kind == "bent_pipe":
        return _bent(made, new, pipe, graduation)
    return min((_straight(made, rolled, pipe, graduation) for rolled in _rolled(old, new)), key=_rank)


def _rank(answer: Serves) -> tuple[int, float]:
    return ("good", "trim", "short", "no").index(answer.verdict), answer.off_mm


def _rolled(old: Piece, new: Piece) -> Iterator[Piece]:
    """Yield the new piece turned about its axis so that its first cut lies in the old one, then its last."""
    yield new
    by_deg = old.ends[-1].roll_deg - new.ends[-1].roll_deg
    if by_deg and new.ends[0].cut_angle_deg != 0.0:
        yield replace(new, ends=tuple(replace(end, roll_deg=end.roll_deg + by_deg) for end in new.ends))


def _straight(made: MadePiece, new: Piece, pipe: PipeRow, graduation: Graduation) -> Serves:
    old = made.piece
    pairs = tuple(zip((old.ends[0], old.ends[-1]), (new.ends[0], new.ends[-1]), strict=True))
    must = tuple(_must_go_mm(was, now, done, pipe) for (was, now), done in zip(pairs, made.done, strict=True))
    return _shared_out(_over_mm(old, new, graduation), must, made, pipe)


def _over_mm(old: Piece, new: Piece, graduation: Graduation) -> float:
    """Return how much longer the old piece is; nothing where the tape can't tell it from the exact new length."""
    if abs(old.rounded_cut_mm - new.cut_length_mm) <= graduation.mm / 2.0 + SLACK_MM:
        return 0.0
    return old.rounded_cut_mm - new.rounded_cut_mm


def _shared_out(over_mm: float, must: tuple[float, ...], made: MadePiece, pipe: PipeRow) -> Serves:
    """Say at which ends the surplus comes off, or why it can't."""
    if any(take and up for take, up in zip(must, made.welded, strict=True)):
        return Serves("no", over_mm, why="welded")
    if _NEVER in must:
        return Serves("no", over_mm, why="end")
    left_mm = over_mm - sum(must)
    if left_mm < -SLACK_MM:
        return Serves("short", -left_mm, why="end" if any(must) else "")
    cut = [number for number, take in enumerate(must) if take]
    if left_mm <= SLACK_MM or cut:
        return _cut_at(made, cut, over_mm) if cut else Serves("good")
    best = [
        (bool(done), least_mm, number)
        for number, (done, up) in enumerate(zip(made.done, made.welded, strict=True))
        if not up and (least_mm := _least_off_mm(done, pipe)) <= left_mm + SLACK_MM
    ]
    if not best:
        return Serves("no", over_mm, why="welded" if all(made.welded) else "groove")
    return _cut_at(made, [min(best)[2]], over_mm)


def _cut_at(made: MadePiece, numbers: list[int], off_mm: float) -> Serves:
    ends = (made.piece.ends[0], made.piece.ends[-1])
    lost = tuple(dict.fromkeys(operation for number in numbers for operation in sorted(made.done[number])))
    return Serves("trim", off_mm, at=tuple(ends[number].at for number in numbers), lost=lost)


def _must_go_mm(was: PieceEnd, now: PieceEnd, done: frozenset[str], pipe: PipeRow) -> float:
    """Return what must come off an end before the new end can be made on it."""
    slant_mm = _slant_mm(was, now, pipe.od_mm)
    lost = done if slant_mm > SLACK_MM else done - set(now.operations)
    return (slant_mm if slant_mm > SLACK_MM else 0.0) + max((_depth_mm(one, pipe) for one in lost), default=0.0)


def _slant_mm(was: PieceEnd, now: PieceEnd, od_mm: float) -> float:
    old, new = tan(radians(was.cut_angle_deg)), tan(radians(now.cut_angle_deg))
    roll = radians(now.roll_deg - was.roll_deg)
    across, along = new * sin(roll), new * cos(roll) - old
    return float(od_mm / 2.0 * (across * across + along * along) ** 0.5)


def _depth_mm(operation: str, pipe: PipeRow) -> float:
    """Return how far into the pipe a prepared end reaches, on the axis; without end for what can't be told here."""
    if operation == "grooved":
        row = groove(pipe.nps)
        return row.gasket_seat_mm + row.groove_width_mm
    if operation == "threaded":
        return thread(pipe.nps).effective_mm
    if operation == "beveled":
        form = bevel(wall_mm=pipe.wall_mm)
        if form.bevel_deg is None or form.land_mm is None:
            return 0.0
        return (pipe.wall_mm - form.land_mm) * tan(radians(form.bevel_deg))
    return _NEVER


def _least_off_mm(done: frozenset[str], pipe: PipeRow) -> float:
    """Return the least that can come off a prepared end which is then prepared the same way again."""
    return max((0.0 if one in {"beveled", "coped"} else _depth_mm(one, pipe) for one in done), default=0.0)


def _over_on_heel_mm(old: Piece, new: Piece, graduation: Graduation) -> float:
    """Return how much longer the old elbow is along its heel, where a turn shows most, as it was marked."""
    was_mm, now_mm = _heel_mm(old), _heel_mm(new)
    marked_mm = round_to(was_mm, graduation)
    if abs(marked_mm - now_mm) <= graduation.mm / 2.0 + SLACK_MM:
        return 0.0
    return marked_mm - round_to(now_mm, graduation)


def _heel_mm(elbow: Piece) -> float:
    return next((mark.value_mm for mark in elbow.marks if mark.name == "heel"), elbow.cut_length_mm)


def _elbow(made: MadePiece, new: Piece, graduation: Graduation) -> Serves:
    """Compare elbows by their radius and the arc of their heel; one whole fitting is as good as another of its kind."""
    old = made.piece
    if abs(old.bend_radius_mm - new.bend_radius_mm) > SLACK_MM:
        return Serves("no", why="bend")
    whole_old, whole_new = bool(old.center_to_end_mm), bool(new.center_to_end_mm)
    if whole_old or whole_new:
        if whole_old and whole_new and old.made_from == new.made_from:
            return Serves("good")
        if whole_new or not old.made_from.endswith("90"):
            return Serves("no", why="bend")
    over_mm = _over_on_heel_mm(old, new, graduation)
    if not over_mm:
        return Serves("good")
    if over_mm < 0.0:
        return Serves("short", -over_mm)
    sawn = [number for number, end in enumerate((old.ends[0], old.ends[-1])) if "cut" in end.operations]
    free = [number for number in (*sawn, 0, 1) if not made.welded[number]]
    return _cut_at(made, free[:1], over_mm) if free else Serves("no", over_mm, why="welded")


def _bent(made: MadePiece, new: Piece, pipe: PipeRow, graduation: Graduation) -> Serves:
    """Compare bent pipe: with the same bends each straight end by itself, else not at all."""
    old = made.piece
    half_mm = graduation.mm / 2.0 + SLACK_MM
    before, after = _bends_mm(old), _bends_mm(new)
    if abs(old.bend_radius_mm - new.bend_radius_mm) > SLACK_MM or not _same(before[1:-1], after[1:-1], half_mm):
        return Serves("no", _over_mm(old, new, graduation), why="bend")
    over = [was - now for was, now in ((before[0], after[0]), (before[-1], after[-1]))]
    over = [0.0 if abs(one) <= half_mm else one for one in over]
    pairs = zip((old.ends[0], old.ends[-1]), (new.ends[0], new.ends[-1]), strict=True)
    must = [_must_go_mm(was, now, done, pipe) for (was, now), done in zip(pairs, made.done, strict=True)]
    if _NEVER in must:
        return Serves("no", sum(over), why="end")
    missing_mm = sum(max(need - one, 0.0) for need, one in zip(must, over, strict=True))
    if missing_mm > SLACK_MM:
        return Serves("short", missing_mm, why="end" if any(must) else "")
    cut = [number for number, one in enumerate(over) if one > 0.0]
    if any(not must[number] and _least_off_mm(made.done[number], pipe) > over[number] + SLACK_MM for number in cut):
        return Serves("no", sum(over), why="groove")
    return _cut_at(made, cut, sum(over)) if cut else Serves("good")


def _same(before: list[float], after: list[float], within_mm: float) -> bool:
    return len(before) == len(after) and all(
        abs(one - other) <= within_mm for one, other in zip(before, after, strict=True)
    )


def _bends_mm(piece: Piece) -> list[float]:
    """Return the lengths along bent pipe: straight, bend, straight, ..., straight."""
    stops = [mark.value_mm for mark in piece.marks if mark.name in {"bend_start", "bend_end"}]
    places = [0.0, *stops, piece.rounded_cut_mm]
    return [end - start for start, end in pairwise(places)]
