"""Is there pipe enough beside the bends."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bends import BendChoice
from geometry.build import build
from geometry.room import SHORTEST_PIPE_MM, Run, short_runs
from tests.geometry.tie_ins import codes, tie_in


@given(st.floats(0.0, 45.0), st.floats(0.0, 45.0), st.floats(-180.0, 180.0))
def test_the_throat_is_the_shortest_line_of_two_rolled_cuts(first, second, roll):
    run = Run(name="P1", straights_mm=(1000.0,), needs_mm=0.0, cuts_deg=(first, second), roll_deg=roll)
    around = np.linspace(0.0, 2.0 * np.pi, 40001)
    ends = np.tan(np.radians(first)) * np.cos(around) + np.tan(np.radians(second)) * np.cos(around - np.radians(roll))
    assert run.throat_mm(100.0) == pytest.approx(1000.0 - 50.0 * ends.max(), abs=1e-5)


def test_a_square_run_is_as_short_as_its_center():
    assert Run(name="Leg A", straights_mm=(300.0,), needs_mm=0.0).throat_mm(114.3) == 300.0


def test_the_shortest_piece_passes_at_just_its_length():
    just = Run(name="Leg A", straights_mm=(SHORTEST_PIPE_MM,), needs_mm=0.0)
    under = Run(name="Leg A", straights_mm=(SHORTEST_PIPE_MM - 0.01,), needs_mm=0.0)
    assert short_runs((just,), od_mm=114.3) == ()
    assert codes(short_runs((under,), od_mm=114.3)) == ["leg_too_short"]


def test_a_leg_of_just_take_off_gap_and_shortest_piece_is_built():
    least = 6.0 * math.tan(math.radians(19.0)) + 0.09375 + 2.0
    assert build(tie_in(a=least)).buildable
    assert not build(tie_in(a=least - 0.01)).buildable


def test_where_nothing_would_do_it_says_so():
    answer = build(tie_in(a=1.0))
    short = next(found for found in answer.findings if found.code == "leg_too_short")
    assert "No make-up of this turn leaves enough" in short.text


@pytest.mark.parametrize("included", [60.0, 75.0, 90.0, 135.0, 142.0])
@pytest.mark.parametrize("leg", [4.0, 6.0, 9.0, 12.0])
def test_every_make_up_that_is_said_to_do_does(included, leg):
    answer = build(tie_in(leg, 40.0, included))
    for found in answer.findings:
        if found.code == "leg_too_short" and "These would do" in found.text:
            said = found.text.split("These would do: ")[1].rstrip(".")
            choices = {
                "trimmed short radius elbow": BendChoice("trimmed_elbow", "short"),
                "trimmed long radius elbow": BendChoice(),
                "whole short radius elbow": BendChoice("whole_elbow", "short"),
                "whole long radius elbow": BendChoice("whole_elbow"),
                "miter, 1 weld": BendChoice("miter"),
            } | {f"miter, {n} welds": BendChoice("miter", welds=n) for n in range(2, 6)}
            words = [word for word in choices if word in said]
            assert words
            for word in words:
                assert build(tie_in(leg, 40.0, included, bend=choices[word])).buildable, word
