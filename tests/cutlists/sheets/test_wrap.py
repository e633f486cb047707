"""Wrap templates: full size, true along the whole curve, with test bars that show a wrong scale."""

from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest

from cutlists.sheets.frame import A4, LETTER, Paper, body_of
from cutlists.sheets.tiles import OVERLAP_MM, _cleared, lay_out, turned
from cutlists.sheets.wrap import flat_of, write_wrap, write_wraps
from cutlists.sheets.wrap_flat import BAND_MM, flat_of_hole, flat_of_wrap
from geometry.drawing.boxes import touching
from geometry.drawing.labels import box_of
from geometry.drawing.shapes import Line, Polyline, Text
from geometry.wraps import Layout, Saddle, hole_layout
from tests.cutlists.sheets.pdf_reading import all_text, open_pdf, printed, straight_lines, write
from tests.cutlists.sheets.samples import wrap
from tests.cutlists.sheets.wrap_pixels import MAKERS, measure

PRINTED = [
    pytest.param(name, (LETTER, A4)[number % 2], id=f"{name}-{(LETTER, A4)[number % 2].code}")
    for number, name in enumerate(MAKERS)
    if number % 2 == 0 or "miter" in name
]


@pytest.mark.parametrize(("name", "paper"), PRINTED)
def test_the_printed_curve_and_test_bars_are_true_in_the_picture_of_every_tile(name: str, paper: Paper) -> None:
    """The rest of the templates, on both papers: ``python -m tests.benchmarks.wrap_bar``."""
    make = MAKERS[name]
    sheet = replace(wrap(0), template=make(Layout(sheet_mm=0.1)), what=name)
    found = measure(sheet, make, paper=paper)
    assert found.worst_mm < 0.2
    assert max(map(abs, found.bars_off_mm)) < 0.1
    assert found.share > 0.85
    assert found.longest_gap_mm < 16.0


def test_the_measuring_itself_sees_a_curve_that_is_a_quarter_of_a_millimeter_off() -> None:
    make = MAKERS["miter end 60.3 at 22.5"]
    made = make(Layout(sheet_mm=0.1))
    shifted = replace(made, curve_mm=tuple((x, y + 0.25) for x, y in made.curve_mm))
    assert measure(replace(wrap(0), template=shifted), make, paper=LETTER).worst_mm > 0.2


@pytest.mark.parametrize("seed", [0, 1, 2, 3])
@pytest.mark.parametrize("paper", [pytest.param(LETTER, id="letter"), pytest.param(A4, id="a4")])
def test_both_test_bars_are_exact_in_both_directions_on_every_tile(seed: int, paper: object) -> None:
    sheet = wrap(seed)
    pdf = open_pdf(write(write_wrap, sheet, paper=paper))
    tiles = 0
    for page in pdf:
        lines = straight_lines(page)
        level = [abs(x2 - x1) for x1, y1, x2, y2 in lines if abs(y1 - y2) < 0.01]
        upright = [abs(y2 - y1) for x1, y1, x2, y2 in lines if abs(x1 - x2) < 0.01]
        if not any(abs(length - 100) < 0.1 for length in level):
            continue
        tiles += 1
        for lengths in (level, upright):
            for exact in (100.0, 101.6):
                assert any(abs(length - exact) < 0.01 for length in lengths)
    assert tiles >= 1


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_tiles_overlap_and_cover_the_whole_template(seed: int) -> None:
    sheet = wrap(seed)
    grid = lay_out(flat_of_wrap(sheet.template, tape="1/16"), body_of(turned(A4)))
    tiles = list(grid.tiles())
    assert max(t.left + t.width for t in tiles) >= grid.flat.right
    assert min(t.bottom for t in tiles) <= grid.flat.bottom
    for one, other in pairwise(tiles):
        if one.row == other.row:
            assert one.left + one.width - other.left == pytest.approx(OVERLAP_MM)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_the_girth_is_that_of_the_pipe_with_its_paper(seed: int) -> None:
    template = wrap(seed).template
    assert f"{pi * (template.od_mm + template.sheet_mm):.1f} mm" in " ".join(all_text(write(write_wrap, wrap(seed))))


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_every_ordinate_reads_back(seed: int) -> None:
    sheet = wrap(seed)
    said = all_text(write(write_wrap, sheet))
    for ordinate in sheet.template.ordinates:
        assert str(ordinate.number) in said
        assert f"{ordinate.ordinate_mm:.1f}" in said


def test_the_file_asks_the_printer_not_to_scale() -> None:
    assert b"/PrintScaling /None" in write(write_wrap, wrap(0))
    assert any("100 %" in text for text in all_text(write(write_wrap, wrap(0))))


def test_each_page_of_several_templates_carries_its_own_mark() -> None:
    one, two = replace(wrap(2), mark="214-A"), replace(wrap(2), mark="214-B")
    pdf = open_pdf(write(write_wraps, (one, two)))
    heads = [next(w.text for w in printed(page) if w.text in {"214-A", "214-B"}) for page in pdf]
    assert heads == ["214-A"] * (len(pdf) // 2) + ["214-B"] * (len(pdf) // 2)


def test_a_saddle_that_just_overruns_a_page_gets_a_narrower_band_and_no_second_row() -> None:
    body = body_of(turned(LETTER))
    room = lay_out(flat_of_wrap(wrap(0).template, tape="1/16"), body).height
    tall = replace(wrap(0).template, cut_back_mm=room - BAND_MM - 8.0 + 3.0)
    assert lay_out(flat_of_wrap(tall, tape="1/16"), body).rows == 2
    flat = flat_of(tall, tape="1/16", body=body)
    assert lay_out(flat, body).rows == 1
    assert flat.top - flat.bottom == pytest.approx(room, abs=0.1)


LEANING = Saddle(
    main_od_mm=609.6,
    main_wall_mm=9.53,
    branch_od_mm=168.275,
    branch_wall_mm=7.11,
    included_deg=120.0,
    offset_mm=60.0,
)


def on_top_of(saddle: Saddle, x: float, y: float) -> tuple[float, float, float]:
    """Lay a point of the hole's sheet onto the main, print up: the main runs to the right, its left is upward."""
    large = saddle.main_od_mm / 2
    pierce = sqrt(large**2 - saddle.offset_mm**2) / tan(radians(saddle.included_deg))
    return pierce + x, large * sin(y / large), large * cos(y / large)


@pytest.mark.parametrize("included_deg", [60.0, 90.0, 120.0])
@pytest.mark.parametrize("offset_mm", [60.0, -60.0])
def test_the_hole_laid_print_up_on_the_main_lies_on_the_branchs_own_pipe(included_deg, offset_mm) -> None:
    """The branch leaves the main's center along (cos b, 0, sin b), moved to the left by the offset."""
    saddle = replace(LEANING, included_deg=included_deg, offset_mm=offset_mm, edge="outside")
    flat = flat_of_hole(hole_layout(saddle))
    curve = next(shape for shape in flat.lines if isinstance(shape, Polyline) and shape.style == "cut")
    b, radius = radians(included_deg), saddle.branch_od_mm / 2
    for x, y in curve.points[::8]:
        along, left, up = on_top_of(saddle, x, y)
        from_axis = hypot(left - offset_mm, along * sin(b) - up * cos(b))
        assert from_axis == pytest.approx(radius, abs=1e-6)


def test_the_hole_shows_the_mains_top_line_and_which_side_is_the_crotch() -> None:
    for included_deg, crotch_right in ((60.0, True), (120.0, False)):
        flat = flat_of_hole(hole_layout(replace(LEANING, included_deg=included_deg)))
        said = {label.text: label for label in flat.labels}
        assert (said["crotch side"].x_mm > said["heel side"].x_mm) is crotch_right
        assert any(isinstance(line, Line) and line.y1_mm == line.y2_mm == 0.0 for line in flat.lines)
        assert said["top of the main"].y_mm == pytest.approx(1.2)
        assert said["branch center"].y_mm > 50


def test_no_label_of_a_hole_lies_on_another() -> None:
    for offset_mm in (0.0, 3.0, 12.0, 40.0, 200.0, -60.0):
        for included_deg in (45.0, 90.0, 120.0):
            saddle = replace(LEANING, included_deg=included_deg, offset_mm=offset_mm)
            boxes = [box_of(label) for label in flat_of_hole(hole_layout(saddle)).labels]
            assert all(touching(box, boxes[k + 1 :]) == 0 for k, box in enumerate(boxes)), (offset_mm, included_deg)


def test_a_figure_on_a_join_line_is_not_crossed_out() -> None:
    label, join = Text(10.0, 10.0, "3-3/8", 2.2), Line(12.0, 0.0, 12.0, 50.0, "center")
    assert [shape.style for shape in _cleared(label, (join,))] == ["paper"]
    assert _cleared(label, (replace(join, x1_mm=40.0, x2_mm=40.0),)) == ()
