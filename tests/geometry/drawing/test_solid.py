"""A spool in space for a renderer: the walk's own points, square or halving cut faces, measures as stored."""

from math import dist

import pytest

from geometry.build import BendChoice, EndChoice, SpoolRequest, build
from geometry.centerline import walk
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.isometric import isometric_basis
from geometry.drawing.solid import solid_of
from geometry.lengths import SIXTEENTH, format_length
from geometry.tables import pipe

MITER = BendChoice(kind="miter", welds=1, miters_allowed=True)


def built(bend=None, *, hand="left", prep="grooved", included_deg=127.5):
    reference = "flange_face" if prep.startswith("flanged") else "pipe_end"
    request = SpoolRequest(
        pipe=pipe("6", "40"),
        leg_a_mm=917.575,
        leg_b_mm=573.0875,
        included_deg=included_deg,
        bend=bend or BendChoice(),
        end_a=EndChoice("beveled", "pipe_end"),
        end_b=EndChoice(prep, reference),
        root_gap_mm=2.38125,
    )
    answer = build(request)
    assert answer.buildable
    return answer, solid_of(spool_drawing(request, answer, mark="214", hand=hand))


def test_the_tubes_begin_and_end_where_the_walk_does():
    answer, solid = built()
    frames = walk(answer.steps)
    assert solid.tubes[0].points[0] == pytest.approx(frames[0].point)
    assert solid.tubes[-1].points[-1] == pytest.approx(frames[-1].point)
    lengths = {tube.piece: dist(tube.points[0], tube.points[-1]) for tube in solid.tubes if tube.kind == "pipe"}
    cut = {piece.mark: piece.cut_length_mm for piece in answer.pieces if piece.kind == "pipe"}
    assert lengths == pytest.approx(cut)


def test_the_points_of_an_elbow_lie_on_its_radius():
    answer, solid = built()
    (elbow,) = (tube for tube in solid.tubes if tube.kind == "arc")
    radius = next(piece.bend_radius_mm for piece in answer.pieces if piece.mark == "E")
    first, normal = elbow.points[0], elbow.normals[0]
    center = (first[0] - normal[1] * radius, first[1] + normal[0] * radius, first[2])  # toward y, square to the pipe
    assert [dist(point, center) for point in elbow.points] == pytest.approx([radius] * len(elbow.points))


def test_the_faces_of_a_miter_halve_its_turn():
    _, solid = built(MITER, included_deg=150.0)
    face = solid.tubes[0].normals[1]
    along_a, along_b = (
        tuple((b - a) / dist(*tube.points) for a, b in zip(*tube.points, strict=True)) for tube in solid.tubes
    )
    assert sum(f * a for f, a in zip(face, along_a, strict=True)) == pytest.approx(
        sum(f * b for f, b in zip(face, along_b, strict=True))
    )
    assert solid.tubes[1].normals[0] == pytest.approx(face)


def test_every_weld_and_the_groove_has_its_ring_on_the_center_line():
    answer, solid = built()
    assert [ring.words for ring in solid.rings if ring.what == "weld"] == ["weld 1", "weld 2"]
    (groove,) = (ring for ring in solid.rings if ring.what == "groove")
    assert dist(groove.at, solid.ends[1].at) == pytest.approx(15.9 + 8.7 / 2)
    _, flanged = built(prep="flanged_slip_on")
    assert [ring.what for ring in flanged.rings if ring.what != "weld"] == ["flange"]
    neck = next(tube for tube in flanged.tubes if tube.piece == "flange")
    assert neck.points[-1] == pytest.approx(flanged.ends[1].at)  # no plate hangs in the air
    assert answer.joints


def test_the_measures_are_the_stored_ones():
    answer, solid = built()
    said = {one.text for one in solid.measures}
    assert f"leg A {format_length(917.575, graduation=SIXTEENTH)}" in said
    assert "turn 52.5°" in said
    assert f"C {format_length(answer.check_mm, graduation=SIXTEENTH)}" in said
    for piece in answer.pieces:
        if piece.kind == "pipe":
            assert f"cut {piece.mark} {format_length(piece.rounded_cut_mm, graduation=SIXTEENTH)}" in said
    check = next(one for one in solid.measures if one.what == "check")
    assert dist(check.start, check.end) == pytest.approx(answer.check_mm)


@pytest.mark.parametrize("hand", ["left", "right", "up", "down", ""])
def test_the_eye_starts_where_the_isometric_drawing_looks_from(hand):
    _, solid = built(hand=hand)
    basis = isometric_basis(hand)
    assert (solid.eye, solid.eye_up) == (basis.toward, basis.up)
    assert (solid.up is None) == (hand == "")
    if solid.up:
        assert sum(a * b for a, b in zip(solid.up, solid.eye, strict=True)) == pytest.approx(3**-0.5)
