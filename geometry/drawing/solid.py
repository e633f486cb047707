"""A spool as a solid in space, for a renderer that turns it: center lines with their cut faces, welds, ends, measures.

Everything is in mm in the spool's own frame: end A at the origin, leg A along x, the first turn toward y.
"""

from dataclasses import dataclass
from itertools import pairwise

from geometry.centerline import Vector, moved
from geometry.drawing.description import DrawnEnd, Hand, SpoolDrawing
from geometry.drawing.figures import degrees_text
from geometry.drawing.isometric import GROOVE_MM, SEAT_MM, UP, flange_size_mm, isometric_basis, with_flanges
from geometry.drawing.measures import leg_name
from geometry.drawing.scene import body_and_points, finished_ends
from geometry.lengths import format_length


@dataclass(frozen=True, slots=True)
class Tube:
    """A stretch of pipe: its center line, and at each of its points the normal of the face through it."""

    piece: str
    kind: str
    points: tuple[Vector, ...]
    normals: tuple[Vector, ...]


@dataclass(frozen=True, slots=True)
class Ring:
    """A band round the pipe: a weld's bead, a groove, or a flange; ``radius_mm`` is its outside."""

    what: str
    at: Vector
    normal: Vector
    width_mm: float
    radius_mm: float
    words: str = ""


@dataclass(frozen=True, slots=True)
class Measure:
    """A length between two points, or a turn at one (both points the same), with what is written on it."""

    what: str
    start: Vector
    end: Vector
    text: str


@dataclass(frozen=True, slots=True)
class SolidEnd:
    """A finished end: where it is, which way is out, and its words; ``to_main`` is the end at the main."""

    name: str
    at: Vector
    out: Vector
    words: str
    to_main: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A whole spool. ``up`` is where its up mark looks, None where the hand wasn't recorded.

    ``eye`` is the direction from the spool to the eye of its isometric drawing, ``eye_up`` what is up on that paper.
    """

    mark: str
    od_mm: float
    wall_mm: float
    hand: Hand
    up: Vector | None
    eye: Vector
    eye_up: Vector
    tubes: tuple[Tube, ...]
    rings: tuple[Ring, ...]
    ends: tuple[SolidEnd, ...]
    line: tuple[Vector, ...]
    measures: tuple[Measure, ...]


def solid_of(spool: SpoolDrawing) -> Solid:
    """Return a described spool as a solid, its measures written in its own graduation.

    Raises:
        DrawingError: the spool has no pieces.

    """
    body, points = body_and_points(spool)
    basis = isometric_basis(spool.hand)
    tubes = tuple(
        Tube(one.piece, one.kind, one.points, (one.face_1, *one.alongs[1:-1], one.face_2))
        for one in with_flanges(spool, body).stretches
    )
    welds = tuple(
        Ring("weld", at, face, spool.root_gap_mm + spool.wall_mm, spool.od_mm / 2 + 1.5, f"weld {number}")
        for (at, _, face), number in zip(body.welds, spool.welds, strict=False)
    )
    ends = ((spool.end_a, body.end_a, -1.0), (spool.end_b, body.end_b, 1.0))
    finished = finished_ends(spool, body)
    return Solid(
        mark=spool.mark,
        od_mm=spool.od_mm,
        wall_mm=spool.wall_mm,
        hand=spool.hand,
        up=UP[spool.hand] if spool.hand else None,
        eye=basis.toward,
        eye_up=basis.up,
        tubes=tubes,
        rings=(
            *welds,
            *(ring for end, frame, out in ends for ring in _rings(end, spool, frame.point, frame.along, out)),
        ),
        ends=tuple(
            SolidEnd(name, at, _times(frame.along, out), end.words, end.to_main)
            for name, at, (end, frame, out) in zip("AB", finished, ends, strict=True)
        ),
        line=points,
        measures=_measures(spool, tubes, points, finished),
    )


def _rings(end: DrawnEnd, spool: SpoolDrawing, at: Vector, along: Vector, out: float) -> tuple[Ring, ...]:
    """Return the groove or the flange of an end."""
    if end.prep == "grooved":
        middle = moved(at, along, -out * (SEAT_MM + GROOVE_MM / 2))
        return (Ring("groove", middle, along, GROOVE_MM, spool.od_mm / 2),)
    if end.prep.startswith("flanged"):
        radius_mm, thick_mm = flange_size_mm(spool.od_mm)
        return (Ring("flange", moved(at, along, out * (end.beyond_mm - thick_mm / 2)), along, thick_mm, radius_mm),)
    return ()


def _measures(
    spool: SpoolDrawing, tubes: tuple[Tube, ...], points: tuple[Vector, ...], finished: tuple[Vector, Vector]
) -> tuple[Measure, ...]:
    def say(length_mm: float) -> str:
        return format_length(length_mm, graduation=spool.graduation)

    legs = [
        Measure("leg", start, end, f"leg {leg_name(index, len(points) - 1)} {say(spool.line.legs_mm[index])}")
        for index, (start, end) in enumerate(pairwise(points))
    ]
    turns = [
        Measure("turn", at, at, f"turn {degrees_text(spool.line.turns_deg[index])}")
        for index, at in enumerate(points[1:-1])
    ]
    cuts = []
    for piece in spool.pieces:
        parts = [tube for tube in tubes if tube.piece == piece.mark]
        if parts:
            text = f"cut {piece.mark} {say(piece.cut_mm)}" if piece.cut_mm else piece.mark
            middle = parts[len(parts) // 2].points
            ends = (middle[0], middle[-1]) if len(middle) == 2 else (middle[len(middle) // 2],) * 2
            cuts.append(Measure("cut", ends[0], ends[1], text))
    check = [Measure("check", *finished, f"C {say(spool.check_mm)}")] if spool.check_mm else []
    return (*legs, *turns, *cuts, *check)


def _times(vector: Vector, factor: float) -> Vector:
    return (vector[0] * factor, vector[1] * factor, vector[2] * factor)
