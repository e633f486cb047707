"""Can it be saved? What is proposed really fits after trimming, and nothing that fits is passed over."""

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spools.flow.saves import CUT_BACK, MOST_TRIM_MM, Shape, places_for

PIPE = ("6", "40", "A53 B")
TOLERANCE = 3.175
ENDS = st.sampled_from(["beveled", "grooved", "plain", "flanged"])
SHAPES = st.builds(
    Shape,
    id=st.just(1),
    pipe=st.sampled_from([PIPE, ("8", "40", "A53 B")]),
    end_a=ENDS,
    end_b=ENDS,
    turn_deg=st.floats(10, 80),
    leg_a_mm=st.floats(300, 900),
    leg_b_mm=st.floats(300, 900),
)


def far_end(turn_deg: float, leg_a_mm: float, leg_b_mm: float) -> tuple[float, float]:
    """Where end B lies, seen from end A along leg A: plain vectors, nothing of the formulas under test."""
    return leg_a_mm + leg_b_mm * cos(radians(turn_deg)), leg_b_mm * sin(radians(turn_deg))


def place(number: int, old: Shape, **changes) -> Shape:
    values = {name: getattr(old, name) for name in Shape.__dataclass_fields__}
    return Shape(**values | changes | {"id": number})


@given(SHAPES, st.lists(SHAPES, max_size=6))
def test_what_is_proposed_reaches_its_place_after_trimming(old, places):
    places = [place(number, one) for number, one in enumerate(places)]
    for save in places_for(old, places, tolerance_mm=TOLERANCE):
        there = places[save.id]
        legs = (old.leg_b_mm, old.leg_a_mm) if save.turned_around else (old.leg_a_mm, old.leg_b_mm)
        x, y = far_end(old.turn_deg, legs[0] - save.trim_a_mm, legs[1] - save.trim_b_mm)
        wanted_x, wanted_y = far_end(there.turn_deg, there.leg_a_mm, there.leg_b_mm)
        assert hypot(x - wanted_x, y - wanted_y) <= 3 * TOLERANCE + 1e-6
        assert there.pipe == old.pipe


@given(SHAPES, st.floats(TOLERANCE + 0.1, MOST_TRIM_MM - 0.1), st.sampled_from(sorted(CUT_BACK)), st.booleans())
def test_a_place_that_is_the_spool_shortened_at_an_end_that_can_be_cut_back_is_found(old, trim_mm, end, turned):
    shorter = place(7, old, end_a=end, leg_a_mm=old.leg_a_mm - trim_mm)
    if turned:
        shorter = place(
            7, shorter, end_a=shorter.end_b, end_b=shorter.end_a, leg_a_mm=old.leg_b_mm, leg_b_mm=shorter.leg_a_mm
        )
    found = [save.id for save in places_for(old, [shorter], tolerance_mm=TOLERANCE)]
    assert found == [7]


@pytest.mark.parametrize(
    "changes",
    [
        {"leg_b_mm": 480.0},  # the grooved end would have to be cut back
        {"leg_a_mm": 830.0},  # a leg can't grow
        {"turn_deg": 51.0},  # 1 degree at 800 mm is 14 mm off
        {"end_a": "flanged", "leg_a_mm": 700.0},
        {"pipe": ("6", "80", "A53 B")},
        {"leg_a_mm": 400.0},
    ],
)
def test_what_can_not_serve_is_not_proposed(changes):
    old = Shape(1, PIPE, "beveled", "grooved", 50.0, 800.0, 500.0)
    assert places_for(old, [place(2, old, **changes)], tolerance_mm=TOLERANCE) == ()


def test_the_least_to_trim_comes_first():
    old = Shape(1, PIPE, "beveled", "grooved", 50.0, 800.0, 500.0)
    places = [place(2, old, leg_a_mm=700.0), place(3, old, leg_a_mm=790.0), place(4, old, leg_a_mm=799.0)]
    assert [save.id for save in places_for(old, places, tolerance_mm=TOLERANCE)] == [4, 3, 2]
