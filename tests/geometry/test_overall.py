"""Finished spools in space."""

import numpy as np
import pytest

from geometry.bends import BendChoice
from geometry.build import build, build_chain
from geometry.centerline import walk
from geometry.overall import overall
from geometry.tables import pipe
from tests.geometry.laid_end_to_end import wanted
from tests.geometry.test_forward_proof import chain
from tests.geometry.tie_ins import IN, MAKE_UPS, tie_in

FOUR = pipe("4", "40")


def points_of(answer):
    """Return the named points."""
    return {one.name: np.array(one.point) for one in overall(answer, FOUR).points}


@pytest.mark.parametrize("second", MAKE_UPS)
@pytest.mark.parametrize("first", MAKE_UPS)
def test_end_b_is_where_legs_turns_and_twist_put_it(first, second):
    legs, turns, twists = (60.0, 84.0, 72.0), (38.0, 52.5), (-67.0,)
    points = points_of(build_chain(chain(legs, turns, twists, (first, second))))
    place, _ = wanted([leg * IN for leg in legs], turns, twists)
    assert np.allclose(points["end B"], place, rtol=0, atol=1e-9 * 216 * IN)
    assert np.allclose(points["PI 1"], [60 * IN, 0, 0])


def test_every_weld_is_a_point_in_the_middle_of_its_gap():
    answer = build(tie_in(gap=0.125))
    points = points_of(answer)
    assert points["weld 1"][0] == pytest.approx(answer.pieces[0].cut_length_mm + 0.0625 * IN)
    assert len([name for name in points if name.startswith("weld")]) == len(answer.joints)


@pytest.mark.parametrize("second", MAKE_UPS)
@pytest.mark.parametrize("first", MAKE_UPS)
def test_there_are_as_many_weld_points_as_joints(first, second):
    answer = build_chain(chain((60.0, 84.0, 72.0), (38.0, 52.5), (67.0,), (first, second)))
    assert len([name for name in points_of(answer) if name.startswith("weld")]) == len(answer.joints)


def test_a_miters_welds_are_points_even_without_a_gap():
    answer = build(tie_in(60.0, 60.0, 90.0, gap=0.0, bend=BendChoice("miter", welds=3, bend_radius_mm=20 * IN)))
    assert len([name for name in points_of(answer) if name.startswith("weld")]) == 3


def test_butt_welds_are_points_even_without_a_gap():
    assert len([name for name in points_of(build(tie_in(gap=0.0))) if name.startswith("weld")]) == 2


def surface(answer, step=0.25):
    """Return points all over the pipe's outside, from the walk at fine steps, as the box's second method."""
    frames = walk(answer.steps)
    found = []
    around = np.linspace(0, 2 * np.pi, 181)
    for frame, move in zip(frames, answer.steps, strict=False):
        along, axis, at = (np.array(v) for v in (frame.along, frame.axis, frame.point))
        out = np.cross(axis, along)
        for t in np.linspace(0, 1, 201 if move.kind == "arc" else 2):
            place, way = at + along * move.length_mm * t, along
            if move.kind == "arc":
                turn = np.radians(move.degrees) * t
                place = at + move.radius_mm * (np.sin(turn) * along + (1 - np.cos(turn)) * out)
                way = np.cos(turn) * along + np.sin(turn) * out
            side = np.cross(axis, way)
            ring = np.outer(np.cos(around), side) + np.outer(np.sin(around), axis)
            found.append(place + FOUR.od_mm / 2 * ring)
    return np.vstack(found)


def test_the_box_holds_the_pipes_outside_and_touches_it():
    answer = build(tie_in(40.0, 30.0, 120.0))
    box = overall(answer, FOUR).box_mm
    cloud = surface(answer)[:, :2]
    chord = np.array(walk(answer.steps)[-1].point[:2])
    ways = [np.array([1.0, 0.0]), np.array([0.5, np.sqrt(0.75)]), chord / np.linalg.norm(chord)]
    sizes = []
    for way in ways:
        across = np.array([-way[1], way[0]])
        sizes.append(sorted((np.ptp(cloud @ way), np.ptp(cloud @ across)), reverse=True))
    best = min(sizes, key=lambda size: size[0] * size[1])
    assert box[:2] == pytest.approx(best, abs=0.05)
    assert box[2] == pytest.approx(FOUR.od_mm)


def test_a_straight_pipes_box_is_the_pipe():
    assert overall(build(tie_in(included=180.0)), FOUR).box_mm == pytest.approx((68.1875 * IN, 114.3, 114.3))


def test_the_center_of_gravity_is_that_of_its_thin_slices():
    answer = build(tie_in(20.0, 14.0, 100.0, gap=0.0))
    frames = walk(answer.steps)
    slices, weights = [], []
    for frame, move in zip(frames, answer.steps, strict=False):
        along, axis, at = (np.array(v) for v in (frame.along, frame.axis, frame.point))
        out = np.cross(axis, along)
        parts = (np.arange(2000) + 0.5) / 2000
        if move.kind == "pipe":
            slices += [at + along * move.length_mm * t for t in parts]
            weights += [move.length_mm / 2000] * 2000
        if move.kind == "arc":
            turn = np.radians(move.degrees) * parts
            # a ring's slice is thicker at the heel: its own center lies (ro2 + ri2) / 4R outside the center line
            radius = move.radius_mm + (FOUR.od_mm**2 + FOUR.id_mm**2) / 16 / move.radius_mm
            slices += list(
                at + out * move.radius_mm + radius * (np.outer(np.sin(turn), along) - np.outer(np.cos(turn), out))
            )
            weights += [move.radius_mm * np.radians(move.degrees) / 2000] * 2000
    found = np.average(np.array(slices), axis=0, weights=weights)
    assert overall(answer, FOUR).center_of_gravity == pytest.approx(tuple(found), abs=1e-4)


def test_the_longest_piece_is_what_its_bar_must_give():
    answer = build(tie_in(included=150.0, bend=BendChoice("miter")))
    assert overall(answer, FOUR).longest_piece_mm == max(piece.stock_length_mm for piece in answer.pieces)


def test_a_spool_that_cannot_be_built_has_no_size():
    with pytest.raises(ValueError, match="can't be built"):
        overall(build(tie_in(a=1.0)), FOUR)
