"""Templates: true to size, numbers the right way around, edges named, words where they can be read."""

from dataclasses import replace

import numpy as np
import pytest

from geometry.drawing.boxes import touching
from geometry.drawing.hole_view import hole_center_at, hole_view
from geometry.drawing.labels import boxes_of
from geometry.drawing.shapes import Line, Polyline, StackedLength, Text
from geometry.drawing.wrap_view import girth_line_at, measuring_bars, on_sheet, wrap_view
from geometry.lengths import MILLIMETER, SIXTEENTH
from geometry.wraps import Layout, Saddle, hole_layout, miter_end_wrap, miter_middle_wrap, saddle_wrap
from tests.geometry.wraps.test_saddle import branch_frame

OFFSET = Saddle(
    main_od_mm=273.05, main_wall_mm=9.27, branch_od_mm=114.3, branch_wall_mm=6.02, included_deg=52.5, offset_mm=25.4
)
WRAPS = {
    "saddle": saddle_wrap(OFFSET),
    "saddle, 32 lines on a small pipe": saddle_wrap(
        replace(OFFSET, branch_od_mm=60.3, branch_wall_mm=3.9), Layout(lines=32, sheet_mm=0.1)
    ),
    "32 lines on the smallest pipe": miter_end_wrap(od_mm=21.3, wall_mm=2.77, cut_deg=15.0, layout=Layout(lines=32)),
    "leaning back": saddle_wrap(replace(OFFSET, included_deg=120.0)),
    "miter end": miter_end_wrap(od_mm=168.275, wall_mm=7.11, cut_deg=22.5),
    "miter middle": miter_middle_wrap(od_mm=114.3, wall_mm=6.0, cut_deg=15.0, effective_radius_mm=152.4),
    "every 10 degrees": miter_end_wrap(od_mm=323.85, wall_mm=9.5, cut_deg=15.0, layout=Layout(every_deg=10)),
}


def words(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def curves(drawing):
    return [s.points for s in drawing.shapes if isinstance(s, Polyline) and s.style == "cut"]


@pytest.mark.parametrize("name", list(WRAPS))
def test_the_curve_on_paper_is_the_curve_of_the_wrap(name):
    wrap = WRAPS[name]
    x0, y0 = girth_line_at(wrap)
    drawn = np.array(curves(wrap_view(wrap, title="214-B"))[0])
    expected = np.array([(x0 + on_sheet(wrap, x), y0 + y) for x, y in wrap.curve_mm])
    assert np.abs(drawn - expected).max() < 1e-9


def test_the_middle_piece_of_a_miter_has_its_curve_on_both_sides():
    wrap = WRAPS["miter middle"]
    upper, lower = curves(wrap_view(wrap, title="214-M1"))
    y0 = girth_line_at(wrap)[1]
    assert [y - y0 for _, y in upper] == pytest.approx([y0 - y for _, y in lower])


@pytest.mark.parametrize("name", list(WRAPS))
def test_the_closing_lines_are_one_girth_apart(name):
    wrap = WRAPS[name]
    lines = [s for s in wrap_view(wrap, title="214").shapes if isinstance(s, Line) and s.style == "cut"]
    assert lines[1].x1_mm - lines[0].x1_mm == pytest.approx(wrap.girth_mm)


@pytest.mark.parametrize("included_deg", [40.0, 90.0, 140.0])
def test_numbers_run_the_way_they_lie_on_the_pipe(included_deg):
    # A person looks at the heel from outside, the branch's free end up: the left side of the main must be where
    # line 4 of 16 is on the sheet.
    saddle = replace(OFFSET, included_deg=included_deg)
    wrap = saddle_wrap(saddle)
    along, heel, left = branch_frame(saddle)
    to_the_right = np.cross(along, heel)
    left_lies_right = left @ to_the_right > 0
    quarter = wrap.ordinates[4]
    heel_x = 0.0 if left_lies_right else wrap.girth_mm
    assert (on_sheet(wrap, quarter.around_mm) > heel_x) is bool(left_lies_right)
    assert abs(on_sheet(wrap, quarter.around_mm) - heel_x) == pytest.approx(wrap.girth_mm / 4)


@pytest.mark.parametrize("name", list(WRAPS))
@pytest.mark.parametrize("graduation", [SIXTEENTH, MILLIMETER])
def test_no_words_overlap_and_none_leave_the_template(name, graduation):
    drawing = wrap_view(WRAPS[name], title="214-B on the 10 in main", graduation=graduation)
    boxes = boxes_of(drawing.shapes)
    for k, box in enumerate(boxes):
        assert touching(box, boxes[k + 1 :]) == 0
        assert box.inside(width_mm=drawing.width_mm, height_mm=drawing.height_mm)


def test_every_line_has_its_number_and_its_ordinate():
    drawing = wrap_view(WRAPS["saddle"], title="214-B")
    assert [words(drawing).count(str(n)) for n in range(16)] == [2] + [1] * 15  # line 0 at both closing lines
    assert sum(isinstance(shape, StackedLength) for shape in drawing.shapes) == 16


def test_edges_heel_and_crotch_are_named():
    said = words(wrap_view(WRAPS["saddle"], title="214-B"))
    assert "THIS EDGE TO THE MAIN" in said
    assert "THIS EDGE TO THE FREE END OF THE PIPE" in said
    assert {"HEEL", "CROTCH", "LEFT SIDE", "RIGHT SIDE"} <= set(said)


def test_the_girth_and_the_torch_are_in_words():
    said = " ".join(words(wrap_view(WRAPS["saddle"], title="214-B")))
    assert "Girth 1' 2-1/8\" (359.1 mm)" in said
    assert "Hold the torch square to the pipe" in said


@pytest.mark.parametrize("included_deg", [45.0, 135.0])
def test_the_hole_on_paper_is_the_hole_on_the_main_seen_from_above(included_deg):
    hole = hole_layout(replace(OFFSET, included_deg=included_deg))
    x0, y0 = hole_center_at(hole)
    up = 1.0 if included_deg < 90 else -1.0
    drawn = np.array(curves(hole_view(hole, title="Hole for 214-B"))[0])
    expected = np.array([(x0 - x, y0 + up * y) for x, y in hole.curve_mm])
    assert np.abs(drawn - expected).max() < 1e-9


@pytest.mark.parametrize("saddle", [OFFSET, replace(OFFSET, offset_mm=0.0), replace(OFFSET, included_deg=140.0)])
def test_no_words_of_the_hole_s_template_overlap_or_leave_it(saddle):
    drawing = hole_view(hole_layout(saddle), title="Hole for 214-B in the 10 in main")
    boxes = boxes_of(drawing.shapes)
    for k, box in enumerate(boxes):
        assert touching(box, boxes[k + 1 :]) == 0
        assert box.inside(width_mm=drawing.width_mm, height_mm=drawing.height_mm)


@pytest.mark.parametrize(("graduation", "size"), [(SIXTEENTH, 101.6), (MILLIMETER, 100.0)])
def test_the_measuring_bars_are_exact_in_both_directions(graduation, size):
    bars = [s for s in measuring_bars(at=(10.0, 20.0), graduation=graduation) if isinstance(s, Line)]
    assert max(s.x2_mm - s.x1_mm for s in bars) == pytest.approx(size)
    assert max(abs(s.y2_mm - s.y1_mm) for s in bars) == pytest.approx(size)
