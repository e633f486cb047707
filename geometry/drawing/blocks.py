"""Labels with a leader: piece balloons, weld symbols, end pictures with their words, the turn, plain notes."""

from collections.abc import Callable
from math import hypot

from geometry.drawing.description import DrawnEnd
from geometry.drawing.end_pictures import end_picture
from geometry.drawing.figures import degrees_text
from geometry.drawing.labels import stacked_width_mm, text_width_mm
from geometry.drawing.placing import Block
from geometry.drawing.shapes import Arc, Line, Point, Shape, StackedLength, Text

NOTE_MM, FIGURE_MM = 2.1, 2.9  # heights of capitals
_LINE_PITCH = 1.75


def balloon(mark: str, *, size: float = 1.0) -> Block:
    """Return a piece's mark in a circle."""
    height = 2.7 * size
    radius = max(3.2 * size, text_width_mm(mark, height_mm=height, style="figure") / 2 + 1.0)

    def draw(corner: Point, _: int) -> tuple[Shape, ...]:
        x, y = corner[0] + radius, corner[1] + radius
        return (Arc(x, y, radius, 0.0, 360.0, "thin"), Text(x, y - height / 2, mark, height, "middle", style="figure"))

    def grip(target: Point, _: int) -> Point:
        dx, dy = target[0] - radius, target[1] - radius
        size = hypot(dx, dy) or 1.0
        return radius + dx / size * radius, radius + dy / size * radius

    return Block(2 * radius, 2 * radius, draw, grip, "dot")


def weld_symbol(words: str, *, size: float = 1.0) -> Block:
    """Return a weld symbol: reference line, single-V groove on the arrow side, the weld's ``words`` in the tail.

    Source: AWS A2.4, from memory: a groove symbol below the reference line is on the arrow's side.
    """
    height = 2.3 * size
    wide = text_width_mm(words, height_mm=height, style="figure")
    line, fork, groove = 9.0 * size, 1.7 * size, 2.6 * size
    width, tall = line + fork + 0.6 + wide, groove + 0.5 + max(height, fork) / 2 + 0.6

    def draw(corner: Point, side: int) -> tuple[Shape, ...]:
        x, y = corner[0], corner[1] + groove + 0.5
        toward = 1.0 if side < 0 else -1.0  # the tail lies away from the leader
        near = x if side < 0 else x + width
        tail, middle = near + toward * line, near + toward * line * 0.55
        at = (tail + toward * (fork + 0.6), y - height / 2)
        return (
            Line(near, y, tail, y, "thin"),
            Line(tail, y, tail + toward * fork, y + fork * 0.8, "thin"),
            Line(tail, y, tail + toward * fork, y - fork * 0.8, "thin"),
            Line(middle, y, middle - groove * 0.6, y - groove, "thin"),
            Line(middle, y, middle + groove * 0.6, y - groove, "thin"),
            Text(*at, words, height, "start" if side < 0 else "end", style="figure"),
        )

    return Block(width, tall, draw, lambda _, side: (0.0 if side < 0 else width, groove + 0.5))


def end_block(name: str, end: DrawnEnd, *, end_right: bool, size: float = 1.0) -> Block:
    """Return an end's name and preparation in words beside its little picture."""
    first = f"END {name}, TO MAIN" if end.to_main else f"END {name}"
    tall, note = FIGURE_MM * 0.9 * size, NOTE_MM * size
    picture_w, picture_h = 8.5 * size, 6.4 * size
    notes = [words for words in (end.words, end.reference) if words]
    wide = max(text_width_mm(first, height_mm=tall, style="figure"), *(text_width_mm(n, height_mm=note) for n in notes))
    width, height = picture_w + 1.6 + wide, max(picture_h, tall + len(notes) * note * _LINE_PITCH + 0.5)

    def draw(corner: Point, _: int) -> tuple[Shape, ...]:
        x, y = corner
        words_x = x if not end_right else x + picture_w + 1.6
        picture_x = x + width - picture_w if not end_right else x
        low = y + (height - picture_h) / 2
        return (
            *end_picture(end.prep, at=(picture_x, low), width_mm=picture_w, height_mm=picture_h, end_right=end_right),
            Text(words_x, y + height - tall, first, tall, style="figure"),
            *(
                Text(words_x, y + height - tall - note * _LINE_PITCH * (row + 1), words, note)
                for row, words in enumerate(notes)
            ),
        )

    return Block(width, height, draw, _nearest_side(width, height))


def turn_block(turn_deg: float, *, size: float = 1.0) -> Block:
    """Return the turn with the included angle under it."""
    return two_lines(
        f"TURN {degrees_text(turn_deg)}", f"included angle {degrees_text(180.0 - turn_deg)}", size=size, arrow=False
    )


def two_lines(first: str, second: str, *, size: float = 1.0, arrow: bool = True) -> Block:
    """Return a figure with a note under it."""
    tall, note = FIGURE_MM * size, NOTE_MM * size
    width = max(text_width_mm(first, height_mm=tall, style="figure"), text_width_mm(second, height_mm=note))
    height = tall + (note * _LINE_PITCH if second else 0.0) + 0.4

    def draw(corner: Point, side: int) -> tuple[Shape, ...]:
        anchor, x = ("start" if side < 0 else "end"), corner[0] if side < 0 else corner[0] + width
        shapes: list[Shape] = [Text(x, corner[1] + height - tall, first, tall, anchor, style="figure")]  # type: ignore[arg-type]
        if second:
            shapes.append(Text(x, corner[1] + height - tall - note * _LINE_PITCH, second, note, anchor))  # type: ignore[arg-type]
        return tuple(shapes)

    return Block(width, height, draw, _nearest_side(width, height), "arrow" if arrow else "none")


def length_block(label: StackedLength) -> Block:
    """Return a length with a leader, for a piece too short for a dimension line."""
    width, height = stacked_width_mm(label), label.height_mm * 1.4

    def draw(corner: Point, _: int) -> tuple[Shape, ...]:
        return (
            StackedLength(
                corner[0],
                corner[1] + label.height_mm * 0.2,
                label.prefix,
                label.whole,
                label.numerator,
                label.denominator,
                label.suffix,
                label.height_mm,
                "start",
            ),
        )

    return Block(width, height, draw, _nearest_side(width, height))


def _nearest_side(width: float, height: float) -> Callable[[Point, int], Point]:
    """Return a grip at the middle of whichever side of the words is nearest to the target."""
    grips = ((-0.6, height / 2), (width + 0.6, height / 2), (width / 2, -0.4), (width / 2, height + 0.4))

    def grip(target: Point, _: int) -> Point:
        return min(grips, key=lambda at: hypot(at[0] - target[0], at[1] - target[1]))

    return grip
