"""The working of a whole spool."""

import re

import pytest

from geometry.bends import BendChoice
from geometry.build import build_chain
from geometry.explain_chain import explain_chain
from tests.geometry.test_forward_proof import chain
from tests.geometry.tie_ins import IN


def working(request):
    """Return the working as one text."""
    return "\n".join(explain_chain(request, build_chain(request)))


def test_every_straight_is_a_leg_less_what_both_sides_take():
    said = working(chain((40.0, 36.0, 44.0), (45.0, 30.0), (90.0,), (BendChoice(), BendChoice())))
    sums = re.findall(r"Straight pipe on leg \d: (.*)\.", said)
    straights = [
        float(re.match(r"[\d.]+", one)[0]) - sum(map(float, re.findall(r"(?:off|gap|end) ([\d.]+)", one)))
        for one in sums
    ]
    cuts = [float(value) for value in re.findall(r"Cut \w+: ([\d.]+);", said)]
    assert straights == pytest.approx(cuts, abs=3e-4)
    assert "Turn 2: 30 degrees, included 150, rolled 90 degrees about the pipe before it." in said


def test_bent_pipe_shows_its_arc():
    said = working(chain((60.0, 60.0), (45.0,), (), (BendChoice("bent_pipe", bend_radius_mm=20 * IN),)))
    assert "Arc: R x turn x pi / 180 = 20.0000 x 45 x pi / 180 = 15.7080." in said


def test_what_cannot_be_built_shows_its_findings():
    said = working(chain((40.0, 4.0, 40.0), (45.0, 45.0), (0.0,), (BendChoice(), BendChoice())))
    assert "Error: Pipe P1" in said
    assert "Cut" not in said
