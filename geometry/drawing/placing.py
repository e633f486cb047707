"""Puts labels where there is room: never on another label, on the pipe or outside the frame."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from math import atan2, cos, hypot, pi, sin
from typing import Literal

from geometry.drawing.boxes import Box, stroke_box, touching
from geometry.drawing.shapes import Line, Point, Polyline, Shape, arrowhead

CLEAR_MM = 0.7  # least clear paper between two labels
_RING_STEP_MM = 2.5
_TURNED_AWAY = 5.0 / 57.3  # mm of distance for every degree off the preferred direction
_DIRECTIONS = tuple((15.0 * k, cos(pi * k / 12), sin(pi * k / 12)) for k in range(24))
_ARROW_MM = 2.6
_LINE_MM = 0.2
_DOT_MM = 0.55

# What it costs to cross something, in mm of distance that a label would rather move away.
_LABEL_ON_LINE = 60.0
_LINE_ON_LINE = 6.0
_LINE_ON_BODY = 9.0


@dataclass(frozen=True, slots=True)
class Item:
    """Shapes to be drawn together: the labels' boxes, which nothing may touch, and lines, which may cross at a cost."""

    shapes: tuple[Shape, ...]
    labels: tuple[Box, ...]
    lines: tuple[Box, ...]
    cost: float = 0.0


@dataclass(frozen=True, slots=True)
class Block:
    """A label of its own with a leader: its size, how it is drawn at a lower left corner, and where its leader starts.

    ``draw`` takes the corner and which side the leader comes from (-1 left, 1 right). ``grip`` takes the target as
    seen from the corner, and that side, and returns the leader's start from the corner. ``tip`` is the leader's end:
    an arrow on an edge, a dot on a surface, nothing on a line.
    """

    width_mm: float
    height_mm: float
    draw: Callable[[Point, int], tuple[Shape, ...]]
    grip: Callable[[Point, int], Point]
    tip: Literal["arrow", "dot", "none"] = "arrow"


@dataclass(frozen=True, slots=True)
class _Spot:
    """One place where a block could stand, and what that would cover."""

    corner: Point
    side: int
    start: Point
    target: Point
    box: Box
    stroke: Box
    cost: float


@dataclass(slots=True)
class Sheet:
    """A frame that is being filled; ``failed`` counts labels without room, ``marred`` those that a line crosses."""

    width_mm: float
    height_mm: float
    edge_mm: float = 2.0
    shapes: list[Shape] = field(default_factory=list)
    bodies: list[Box] = field(default_factory=list)
    labels: list[Box] = field(default_factory=list)
    lines: list[Box] = field(default_factory=list)
    cost: float = 0.0
    failed: int = 0
    marred: int = 0

    def cost_of(self, item: Item, *, least: float) -> float | None:
        """Return what an item would cost here, or None where it can't stand or can't beat ``least``."""
        cost = item.cost
        if cost >= least or not self._stands(item):
            return None
        for label in item.labels:
            cost += _LABEL_ON_LINE * touching(label, self.lines, clear_mm=0.2)
        for line in item.lines:
            cost += _LINE_ON_LINE * touching(line, self.lines)
            cost += _LINE_ON_BODY * touching(line, self.bodies, most=1)
        return cost if cost < least else None

    def _stands(self, item: Item) -> bool:
        """Tell whether an item touches no label, covers no pipe with words, and stays in the frame."""
        for label in item.labels:
            if not label.inside(width_mm=self.width_mm, height_mm=self.height_mm, edge_mm=self.edge_mm):
                return False
            if touching(label, self.labels, clear_mm=CLEAR_MM, most=1) or touching(
                label, self.bodies, clear_mm=0.4, most=1
            ):
                return False
        return all(
            line.inside(width_mm=self.width_mm, height_mm=self.height_mm, edge_mm=0.3)
            and not touching(line, self.labels, most=1)
            for line in item.lines
        )

    def put(self, item: Item, cost: float = 0.0) -> None:
        """Draw an item and remember what it covers; a line that had to run below one of its labels is broken there."""
        crossed = [label for label in item.labels if touching(label, self.lines, clear_mm=0.2, most=1)]
        self.shapes.extend(Polyline(label.corners, "paper", closed=True) for label in crossed)
        self.shapes.extend(item.shapes)
        self.labels.extend(item.labels)
        self.marred += len(crossed)
        self.lines.extend(item.lines)
        self.cost += cost

    def place(self, items: Iterable[Item], *, most: float = float("inf")) -> bool:
        """Draw the cheapest of the items that can stand; False where none can for less than ``most``."""
        best: Item | None = None
        least = most
        for item in items:
            cost = self.cost_of(item, least=least)
            if cost is not None:
                best, least = item, cost
        if best is None:
            return False
        self.put(best, least)
        return True

    def place_block(
        self, block: Block, target: Point, *, prefer_deg: float, near_mm: float = 4.0, far_mm: float = 110.0
    ) -> bool:
        """Draw a block as near to its target as there is room, rather in one direction; False where there is none."""
        return self.place_block_at_one(block, ((target, prefer_deg),), near_mm=near_mm, far_mm=far_mm)

    def place_block_at_one(
        self, block: Block, targets: tuple[tuple[Point, float], ...], *, near_mm: float = 4.0, far_mm: float = 110.0
    ) -> bool:
        """Draw a block beside whichever of its targets is cheapest; each target has its own preferred direction."""
        best: _Spot | None = None
        least = float("inf")
        for target, prefer_deg in targets:
            distance = near_mm
            while distance <= far_mm and distance < least:
                for corner, away in self._ring(block, target, prefer_deg, distance):
                    if distance + away < least and (spot := self._spot(block, corner, target, away, least)):
                        best, least = spot, spot.cost
                distance += _RING_STEP_MM
        if best is None:
            self.failed += 1
            return False
        shapes = (*block.draw(best.corner, best.side), *_leader(block, best.start, best.target))
        self.put(Item(shapes, (best.box,), (best.stroke,)), least)
        return True

    def _ring(self, block: Block, target: Point, prefer_deg: float, distance: float) -> Iterator[tuple[Point, float]]:
        """Yield corners in the frame for a block at a distance from its target, and what each direction costs."""
        w, h, edge = block.width_mm, block.height_mm, self.edge_mm
        for degrees, c, s in _DIRECTIONS:
            x, y = target[0] + distance * c + (c - 1.0) * w / 2, target[1] + distance * s + (s - 1.0) * h / 2
            if edge <= x <= self.width_mm - edge - w and edge <= y <= self.height_mm - edge - h:
                yield (x, y), _TURNED_AWAY * abs((degrees - prefer_deg + 180.0) % 360.0 - 180.0)

    def _spot(self, block: Block, corner: Point, target: Point, away: float, least: float) -> _Spot | None:
        """Return a block's place at a corner with its cost, or None where it can't stand or isn't cheaper."""
        x, y = corner
        w, h = block.width_mm, block.height_mm
        box = Box(((x, y), (x + w, y), (x + w, y + h), (x, y + h)))
        if touching(box, self.labels, clear_mm=CLEAR_MM, most=1) or touching(box, self.bodies, clear_mm=0.4, most=1):
            return None
        side = -1 if target[0] <= x + w / 2 else 1
        grip = block.grip((target[0] - x, target[1] - y), side)
        start = (x + grip[0], y + grip[1])
        cost = hypot(start[0] - target[0], start[1] - target[1]) + away
        if cost >= least:
            return None
        stroke = stroke_box(start, target, width_mm=_LINE_MM)
        if touching(stroke, self.labels, most=1):
            return None
        cost += _LABEL_ON_LINE * touching(box, self.lines, clear_mm=0.2)
        cost += _LINE_ON_LINE * touching(stroke, self.lines) + _LINE_ON_BODY * touching(stroke, self.bodies, most=1)
        return _Spot(corner, side, start, target, box, stroke, cost) if cost < least else None


def _leader(block: Block, start: Point, target: Point) -> tuple[Shape, ...]:
    line = Line(*start, *target, "dim")
    if block.tip == "dot":
        return (line, *dot_at(target))
    if block.tip == "arrow" and hypot(target[0] - start[0], target[1] - start[1]) > _ARROW_MM:
        toward = atan2(target[1] - start[1], target[0] - start[0]) * 180.0 / pi
        return (line, arrowhead(target, toward_deg=toward, length_mm=_ARROW_MM))
    return (line,)


def dot_at(point: Point) -> tuple[Shape, ...]:
    """Return the dot with which a leader ends on a surface."""
    ring = tuple((point[0] + _DOT_MM * cos(pi * k / 6), point[1] + _DOT_MM * sin(pi * k / 6)) for k in range(12))
    return (Polyline(ring, "ink", closed=True),)
