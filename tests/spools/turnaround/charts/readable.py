"""What every chart must be: words inside the sheet, apart from each other, no line through them."""

from geometry.drawing.labels import Box, box_of, boxes_of
from geometry.drawing.shapes import Drawing, Line, Text

STRONG = {"edge", "hidden", "center", "dim", "thin"}


def words(drawing: Drawing) -> list[str]:
    """Return all words of a chart."""
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def assert_readable(drawing: Drawing) -> None:
    """Fail, naming the words, where a chart can't be read."""
    labels = [shape for shape in drawing.shapes if isinstance(shape, Text)]
    boxes = boxes_of(drawing.shapes)
    for label, box in zip(labels, boxes, strict=True):
        assert box.inside(width_mm=drawing.width_mm, height_mm=drawing.height_mm), f"off the sheet: {label.text}"
    for number, box in enumerate(boxes):
        for other in range(number):
            assert not box.overlaps(boxes[other]), f"{labels[number].text!r} lies on {labels[other].text!r}"
    for line in drawing.shapes:
        if isinstance(line, Line) and line.style in STRONG:
            for label in labels:
                assert not _crosses(line, box_of(label)), f"a line runs through {label.text!r}"


def _crosses(line: Line, box: Box) -> bool:
    xs, ys = zip(*box.corners, strict=True)
    low_x, high_x = sorted((line.x1_mm, line.x2_mm))
    low_y, high_y = sorted((line.y1_mm, line.y2_mm))
    return low_x < max(xs) and high_x > min(xs) and low_y < max(ys) and high_y > min(ys)
