"""The pipe in space: every stretch of a spool's walk as a center line with its cut faces."""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from geometry.centerline import Frame, Step, Vector, stepped

_ARC_STEP_DEG = 3.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight or bent stretch of one piece.

    ``points`` and ``alongs`` follow the center line (two of each when straight); ``face_1`` and ``face_2`` are the
    normals of the planes that cut it, which differ from the pipe's direction at a miter.
    """

    piece: str
    kind: str
    points: tuple[Vector, ...]
    alongs: tuple[Vector, ...]
    face_1: Vector
    face_2: Vector


@dataclass(frozen=True, slots=True)
class Body:
    """A whole spool in space: its stretches, the faces of its welds, and the pipe's own two ends."""

    stretches: tuple[Stretch, ...]
    welds: tuple[tuple[Vector, Vector, Vector], ...]
    end_a: Frame
    end_b: Frame


def lay_body(steps: tuple[Step, ...], start: Frame | None = None) -> Body:
    """Walk the steps and return the body.

    A weld is reported as (point, direction of the pipe, normal of its face); the face of a miter is the plane that
    halves its turn.
    """
    frame = start or Frame()
    runs: list[tuple[Step, list[Frame], Vector | None]] = []
    faces: list[Vector | None] = []  # for each run, the normal of the plane at its start where a kink made one
    kink: Vector | None = None
    for step in steps:
        after = stepped(frame, step)
        if step.kind == "kink":
            kink = _halving(frame.along, after.along)
            if runs:
                runs[-1] = (runs[-1][0], runs[-1][1], kink)
        elif step.kind in {"pipe", "arc"} and step.piece:
            runs.append((step, _along(frame, step), None))
            faces.append(kink)
            kink = None
        frame = after
    stretches = tuple(
        Stretch(
            step.piece,
            step.kind,
            tuple(f.point for f in frames),
            tuple(f.along for f in frames),
            first or frames[0].along,
            second or frames[-1].along,
        )
        for (step, frames, second), first in zip(runs, faces, strict=True)
    )
    welds = tuple(
        (_middle(one.points[-1], two.points[0]), one.alongs[-1], one.face_2)
        for one, two in pairwise(stretches)
        if one.piece != two.piece
    )
    return Body(stretches, welds, runs[0][1][0], runs[-1][1][-1])


def _along(frame: Frame, step: Step) -> list[Frame]:
    """Return frames along one step: its two ends, and points in between on an arc."""
    if step.kind == "pipe":
        return [frame, stepped(frame, step)]
    count = max(2, ceil(abs(step.degrees) / _ARC_STEP_DEG))
    parts = [Step("arc", degrees=step.degrees * k / count, radius_mm=step.radius_mm) for k in range(count + 1)]
    return [stepped(frame, part) for part in parts]


def _halving(u: Vector, v: Vector) -> Vector:
    total = (u[0] + v[0], u[1] + v[1], u[2] + v[2])
    size = (total[0] ** 2 + total[1] ** 2 + total[2] ** 2) ** 0.5
    return (total[0] / size, total[1] / size, total[2] / size)


def _middle(p: Vector, q: Vector) -> Vector:
    return ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2)
