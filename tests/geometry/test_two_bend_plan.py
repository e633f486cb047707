"""Plans of two bends: what is built of each ends at the port, whatever its make-ups."""

import numpy as np
import pytest

from geometry.bends import BendChoice
from geometry.build import build_chain
from geometry.ends import EndChoice
from geometry.spool import BuildRequest
from geometry.tables import pipe
from geometry.two_bend import Port
from geometry.two_bend_choice import NoTwoBend
from geometry.two_bend_plan import WHOLE, two_bend_plans

END = EndChoice("beveled", "pipe_end")
ASKED = BuildRequest(pipe=pipe("6", "40"), end_a=END, end_b=END, root_gap_mm=2.4)
A = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
ROLLING = Port((2000.0, 355.6, 241.3), (-1.0, 0.0, 0.0))
SKEWED = Port((1100.0, 900.0, 160.0), (0.0, -1.0, 0.0))


def end_of(request) -> np.ndarray:
    """Walk legs, turns and twists by rotations, a second way. The plane of the first turn is free."""
    place, along, axis = np.zeros(3), np.array([1.0, 0, 0]), np.array([0.0, 0, 1])
    twists = (0.0, *request.line.twists_deg)
    for leg, turn, twist in zip(request.line.legs_mm, request.line.turns_deg, twists, strict=False):
        axis = turned(axis, along, twist)
        place = place + leg * along
        along = turned(along, axis, turn)
    return place + request.line.legs_mm[-1] * along


def turned(vector: np.ndarray, axis: np.ndarray, degrees: float) -> np.ndarray:
    """Rodrigues' rotation."""
    angle = np.radians(degrees)
    across = np.cross(axis, vector) * np.sin(angle)
    return vector * np.cos(angle) + across + axis * (axis @ vector) * (1 - np.cos(angle))


@pytest.mark.parametrize("port", [ROLLING, SKEWED])
@pytest.mark.parametrize(
    "bend", [BendChoice(), BendChoice("miter", welds=2), BendChoice("bent_pipe", bend_radius_mm=500)]
)
def test_every_plan_reaches_the_port_and_can_be_built(port, bend):
    plans = two_bend_plans(ASKED, A, port, bends=(bend, bend), whole_too=bend.kind == "trimmed_elbow")
    for plan in plans:
        request = plan.request_on(ASKED)
        answer = build_chain(request)
        assert answer.buildable
        reach = end_of(request)
        assert reach[0] == pytest.approx(port.point[0], abs=1e-5)
        assert np.hypot(*reach[1:]) == pytest.approx(np.hypot(*port.point[1:]), abs=1e-5)
        assert answer.check_mm == pytest.approx(np.linalg.norm(port.point), abs=1e-5)


def test_whole_elbows_come_first_where_they_join_the_ports():
    plans = two_bend_plans(ASKED, A, ROLLING, bends=(BendChoice(), BendChoice()), whole_too=True)
    assert plans[0].bends == (WHOLE, WHOLE)
    assert plans[-1].bends == (BendChoice(), BendChoice())


def test_only_whole_elbows_are_refused_where_none_join_the_ports():
    with pytest.raises(NoTwoBend, match="trim them"):
        two_bend_plans(ASKED, A, Port((900.0, 500.0, 60.0), (-0.96, -0.28, 0.0)), bends=(WHOLE, WHOLE), whole_too=True)
