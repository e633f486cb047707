"""The pipe in space and on paper: outlines, miters and cut faces where solid geometry has them."""

from math import cos, pi, radians, sin, tan

import pytest

from geometry.centerline import Step
from geometry.drawing.body import lay_body
from geometry.drawing.view import View, rim, silhouette
from tests.geometry.drawing.spools import miter, tie_in

PLAN = View((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
STEPS = (Step("pipe", 100.0, piece="A"), Step("kink", degrees=40.0), Step("pipe", 80.0, piece="B"))


def test_the_outlines_of_two_mitered_pipes_meet_on_the_miter():
    one, two = lay_body(STEPS).stretches
    for first, second in zip(silhouette(one, PLAN, 20.0), silhouette(two, PLAN, 20.0), strict=True):
        assert first[-1] == pytest.approx(second[0])


def test_a_miter_is_longer_at_the_heel_by_the_od_times_the_tangent():
    one = lay_body(STEPS).stretches[0]
    throat, heel = silhouette(one, PLAN, 20.0)
    assert heel[-1][0] - throat[-1][0] == pytest.approx(40.0 * tan(radians(20.0)))


def test_the_outline_of_an_elbow_lies_one_radius_beside_its_center_line():
    arc = lay_body((Step("arc", degrees=90.0, radius_mm=150.0, piece="E"),)).stretches[0]
    inner, outer = silhouette(arc, PLAN, 50.0)
    assert all((x**2 + (y - 150.0) ** 2) ** 0.5 == pytest.approx(100.0) for x, y in inner)
    assert all((x**2 + (y - 150.0) ** 2) ** 0.5 == pytest.approx(200.0) for x, y in outer)


def test_a_face_seen_edge_on_is_a_line_and_one_seen_aslant_an_ellipse():
    along = (1.0, 0.0, 0.0)
    first, last = rim((0.0, 0.0, 0.0), along, along, PLAN, 10.0, front_only=True)
    assert first == pytest.approx((0, 10))
    assert last == pytest.approx((0, -10))
    slanted = View((cos(pi / 6), 0.0, -sin(pi / 6)), (0.0, 1.0, 0.0))
    ring = rim((0.0, 0.0, 0.0), along, along, slanted, 10.0, front_only=False)
    assert max(x for x, _ in ring) == pytest.approx(5.0)
    assert max(y for _, y in ring) == pytest.approx(10.0)


def test_every_weld_of_the_build_has_its_place_on_the_body():
    for spool in (tie_in(), tie_in(bend=miter(1)), tie_in(bend=miter(3), legs_in=(48, 40), included_deg=110.0)):
        assert len(lay_body(spool.steps).welds) == len(spool.welds)
