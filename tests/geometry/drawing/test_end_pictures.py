"""End pictures: every preparation has its own, inside its box, and on the pipe it can be told."""

import pytest

from geometry.drawing.end_ink import end_features
from geometry.drawing.end_pictures import end_picture
from geometry.drawing.shapes import Line, Polyline
from geometry.ends import END_PREPS

CODES = [prep.code for prep in END_PREPS]


def outline(shapes):
    return tuple(s for s in shapes if isinstance(s, Polyline))


@pytest.mark.parametrize("end_right", [True, False])
@pytest.mark.parametrize("code", CODES)
def test_a_picture_stays_in_its_box(code, end_right):
    shapes = end_picture(code, at=(10.0, 20.0), width_mm=8.5, height_mm=6.4, end_right=end_right)
    for shape in shapes:
        points = (
            shape.points if isinstance(shape, Polyline) else ((shape.x1_mm, shape.y1_mm), (shape.x2_mm, shape.y2_mm))
        )
        for x, y in points:
            assert 9.99 <= x <= 18.51
            assert 19.2 <= y <= 27.2


def test_no_two_preparations_look_alike():
    pictures = {outline(end_picture(code, at=(0, 0), width_mm=8.5, height_mm=6.4, end_right=True)) for code in CODES}
    assert len(pictures) == len(CODES)


@pytest.mark.parametrize("code", [code for code in CODES if code != "saddle"])
def test_cut_walls_are_hatched(code):
    shapes = end_picture(code, at=(0, 0), width_mm=8.5, height_mm=6.4, end_right=True)
    assert sum(isinstance(shape, Line) and shape.style == "hatch" for shape in shapes) >= 5


@pytest.mark.parametrize("code", [code for code in CODES if code != "plain"])
def test_every_preparation_but_a_plain_one_changes_the_pipe_s_outline(code):
    assert end_features(code, end=(0, 0), outward=(1, 0), od_mm=168.3, wall_mm=7.1, beyond_mm=90.0, scale=0.1)
