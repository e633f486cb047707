"""The tuple of make-ups."""

import math

import pytest

from geometry.bends import MAKE_UPS, BendChoice, UnknownMakeUp, make_up
from geometry.bends.base import weld_length_mm
from geometry.findings import has_errors
from tests.geometry.tie_ins import turn


def test_make_ups_stand_in_order_of_preference():
    assert [kind.code for kind in MAKE_UPS] == ["whole_elbow", "trimmed_elbow", "bent_pipe", "miter"]


def test_an_unknown_make_up_names_those_there_are():
    with pytest.raises(UnknownMakeUp, match="trimmed_elbow"):
        make_up("elbow")


@pytest.mark.parametrize("kind", MAKE_UPS, ids=lambda kind: kind.code)
def test_every_candidate_has_words_of_its_own(kind):
    choices = kind.candidates(BendChoice())
    assert len({kind.words(choice) for choice in choices}) == len(choices)


@pytest.mark.parametrize("kind", MAKE_UPS, ids=lambda kind: kind.code)
@pytest.mark.parametrize("turn_deg", [0.5, 3.0, 38.0, 45.0, 90.0, 90.25, 120.0, 150.0])
def test_every_refusal_says_what_would_do(kind, turn_deg):
    for choice in kind.candidates(BendChoice()):
        made = kind.make(turn(turn_deg, choice))
        for finding in made.findings:
            assert finding.text.endswith(".")
            assert finding.level != "error" or any(
                word in finding.text for word in ("take", "trim", "choose", "Choose", "give", "cut it from")
            )
        assert made.welds or made.arc or has_errors(made.findings)


def test_the_weld_of_a_slanted_cut_is_the_ellipse():
    small, large = 50.0, 50.0 / math.cos(math.radians(22.5))
    steps = 20000
    points = [
        (small * math.cos(2 * math.pi * k / steps), large * math.sin(2 * math.pi * k / steps)) for k in range(steps + 1)
    ]
    around = sum(math.dist(points[k], points[k + 1]) for k in range(steps))
    assert weld_length_mm(od_mm=100.0, cut_angle_rad=math.radians(22.5)) == pytest.approx(around, rel=1e-7)
