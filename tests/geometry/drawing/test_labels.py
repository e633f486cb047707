"""Measuring words: widths against the font itself, boxes against plain geometry."""

from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.drawing.boxes import Box, stroke_box, touching
from geometry.drawing.labels import box_of, broken, stacked_parts, stacked_width_mm, text_width_mm
from geometry.drawing.shapes import Line, StackedLength, Text

FRACTION = StackedLength(50, 20, "CUT ", "2' 7", 9, 16, '"', 3.0)


def turned_box(x, y, width, height, degrees):
    c, s = cos(radians(degrees)), sin(radians(degrees))
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    return Box(tuple((x + a * c - b * s, y + a * s + b * c) for a, b in corners))


def test_words_are_as_wide_as_the_font_s_own_table_says():
    # Barlow Semi Condensed Medium: "3" 471, "'" 141, " " 200, "4" 505 thousandths; capitals are 0.7 of the size.
    assert text_width_mm("3' 4", height_mm=0.7) == pytest.approx((471 + 141 + 200 + 505) / 1000)


def test_a_figure_is_wider_than_a_note():
    assert text_width_mm("CHECK", height_mm=3, style="figure") > text_width_mm("CHECK", height_mm=3)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("rotation", [0.0, 37.0, 90.0, -60.0])
def test_the_parts_of_a_stacked_length_stay_in_its_box(anchor, rotation):
    label = StackedLength(50, 20, "CUT ", "2' 7", 15, 16, '"', 3.0, anchor, rotation)
    around = box_of(label)
    for part in stacked_parts(label):
        if isinstance(part, Line):
            assert touching(stroke_box((part.x1_mm, part.y1_mm), (part.x2_mm, part.y2_mm), width_mm=0.01), [around])
        else:
            middle = box_of(part)
            x = sum(corner[0] for corner in middle.corners) / 4
            y = sum(corner[1] for corner in middle.corners) / 4
            assert around.overlaps(stroke_box((x, y), (x, y), width_mm=0.01))


def test_numerator_and_denominator_stand_above_and_below_the_bar():
    _, over, under, bar, _ = stacked_parts(FRACTION)
    assert under.y_mm + under.height_mm < bar.y1_mm < over.y_mm
    assert over.x_mm == pytest.approx(under.x_mm) == pytest.approx((bar.x1_mm + bar.x2_mm) / 2)


def test_the_parts_follow_each_other_without_a_gap_or_an_overlap():
    lead, over, _, _, inch = stacked_parts(FRACTION)
    left = FRACTION.x_mm - stacked_width_mm(FRACTION) / 2
    assert lead.x_mm == pytest.approx(left)
    lead_end = left + text_width_mm("CUT 2' 7", height_mm=3.0, style="figure")
    assert lead_end < over.x_mm < inch.x_mm
    inch_end = inch.x_mm + text_width_mm('"', height_mm=3.0, style="figure")
    assert inch_end == pytest.approx(left + stacked_width_mm(FRACTION))


@settings(max_examples=200, deadline=None)
@given(
    st.tuples(*[st.floats(-30, 30)] * 2, *[st.floats(1, 20)] * 2, st.floats(-180, 180)),
    st.tuples(*[st.floats(-30, 30)] * 2, *[st.floats(1, 20)] * 2, st.floats(-180, 180)),
)
def test_two_boxes_overlap_when_their_polygons_do(first, second):
    one, other = turned_box(*first), turned_box(*second)
    inside = _a_common_point(one, other)
    if inside:
        assert one.overlaps(other)
        assert other.overlaps(one)
    if not one.overlaps(other):
        assert not inside


def _a_common_point(one, other):
    """Look for a point of one box inside the other on a fine grid."""
    (a, b, _, d) = one.corners
    for i in range(21):
        for j in range(21):
            x = a[0] + (b[0] - a[0]) * i / 20 + (d[0] - a[0]) * j / 20
            y = a[1] + (b[1] - a[1]) * i / 20 + (d[1] - a[1]) * j / 20
            if _strictly_inside(x, y, other):
                return True
    return False


def _strictly_inside(x, y, box):
    corners = box.corners
    return all(
        (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) > 1e-6
        for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True)
    )


def test_boxes_side_by_side_are_apart_unless_more_room_is_asked_for():
    one, other = turned_box(0, 0, 10, 4, 0), turned_box(10.5, 0, 10, 4, 0)
    assert not one.overlaps(other)
    assert one.overlaps(other, clear_mm=0.6)


def test_words_are_broken_to_a_width():
    lines = broken("Hold the torch square to the pipe, aimed at its center", height_mm=2.1, room_mm=40.0)
    assert " ".join(lines) == "Hold the torch square to the pipe, aimed at its center"
    assert all(text_width_mm(line, height_mm=2.1) <= 40.0 for line in lines)


def test_a_label_s_box_turns_with_it():
    upright = box_of(Text(10, 10, "UP MARK", 2.0, rotation_deg=90.0))
    assert upright.y2 - upright.y1 > upright.x2 - upright.x1
