"""Marks on a trimmed elbow."""

import numpy as np
import pytest

from geometry.wraps import WrapError, elbow_trim_marks


def test_each_arc_equals_the_length_walked_along_the_elbow():
    trim = elbow_trim_marks(radius_mm=228.6, od_mm=168.275, turn_deg=53.0, lines=16)
    turns = np.radians(np.linspace(0, 53.0, 20001))
    for mark in trim.marks:
        radius = 228.6 + 168.275 / 2 * np.cos(np.radians(mark.around_deg))
        walked = np.hypot(np.diff(radius * np.cos(turns)), np.diff(radius * np.sin(turns))).sum()
        assert mark.arc_mm == pytest.approx(walked, rel=1e-8)


def test_heel_center_and_throat_are_named_on_their_lines():
    trim = elbow_trim_marks(radius_mm=228.6, od_mm=168.275, turn_deg=53.0)
    named = {mark.name: mark.arc_mm for mark in trim.marks if mark.name}
    assert named == {
        "heel": trim.heel_mm,
        "center": pytest.approx(trim.center_mm),
        "throat": pytest.approx(trim.throat_mm),
    }


def test_a_whole_90_within_rounding_is_taken_and_a_quarter_degree_more_is_refused():
    assert elbow_trim_marks(radius_mm=152.4, od_mm=114.3, turn_deg=90.0 + 1e-10).left_over_deg == 0.0
    with pytest.raises(WrapError, match="0 to 90"):
        elbow_trim_marks(radius_mm=152.4, od_mm=114.3, turn_deg=90.25)
    assert elbow_trim_marks(radius_mm=152.4, od_mm=114.3, turn_deg=90.25, from_deg=180.0).left_over_deg == 89.75


def test_a_radius_under_half_the_pipe_is_refused():
    with pytest.raises(WrapError, match="half its outside diameter"):
        elbow_trim_marks(radius_mm=50.0, od_mm=114.3, turn_deg=45.0)
