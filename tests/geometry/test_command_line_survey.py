"""Survey shots in, a spool of one or two bends out."""

import math

import pytest

from geometry.centerline import CenterlineRequest, lay_out
from tests.geometry.requests import request, run

IN = 25.4
A_SHOTS = [[-24.0, 0.0, 0.0], [0.0, 0.0, 0.0]]


@pytest.fixture
def ask(monkeypatch, capsys):
    """Run the command on a request."""
    return lambda asked, *arguments: run(asked, *arguments, monkeypatch=monkeypatch, capsys=capsys)


def surveyed(b_shots, **more):
    """Return a request with shots in inches on both axes; axis A runs along x and its port is the origin."""
    ends = {side: {"prep": "beveled", "measured_to": "pipe_end"} for side in "ab"}
    survey = {"a": {"shots": A_SHOTS}, "b": {"shots": b_shots}}
    return request(**{"readings": None, "survey": survey, "ends": ends, **more})


def on_b(leg_a, leg_b, included, *, up=0.0):
    """Return two shots on axis B of a tie-in whose PI lies leg_a along x."""
    way = (math.cos(math.radians(180.0 - included)), math.sin(math.radians(180.0 - included)))
    return [[leg_a + way[0] * (leg_b + back), way[1] * (leg_b + back), up] for back in (30.0, 0.0)]


def test_axes_that_meet_give_the_tie_in_of_a_jig_reading(ask):
    said = ask(surveyed(on_b(40.3125, 27.875, 142.0)))
    assert said.code == 0
    assert said.answer["turn_deg"] == pytest.approx(38.0, abs=1e-6)
    assert said.answer["legs_mm"] == pytest.approx({"a": 40.3125 * IN, "b": 27.875 * IN})
    assert said.answer["survey"]["make"] == "one_bend"
    assert [piece["mark"] for piece in said.answer["pieces"]] == ["A", "E", "B"]


def test_axes_that_miss_each_other_give_two_bends(ask):
    said = ask(surveyed(on_b(60.0, 50.0, 120.0, up=6.0), in_space=True))
    assert said.code == 0
    assert len(said.answer["turns_deg"]) == 2
    assert "skew_needs_two_bends" in said.codes
    reached = said.answer["in_space"]["points_mm"]["end B"]
    across = math.dist(reached, (0.0, 0.0, 0.0))
    wanted = math.dist([0.0, 0.0, 0.0], [value * IN for value in on_b(60.0, 50.0, 120.0, up=6.0)[1]])
    assert across == pytest.approx(wanted, rel=1e-9)


def test_a_point_and_a_direction_do_as_well(ask):
    axis = {"port": [64.0, 18.0, 0.0], "along": [-0.788, -0.6157, 0.0]}
    said = ask(surveyed(A_SHOTS, survey={"a": {"shots": A_SHOTS}, "b": axis}))
    assert said.code == 0
    assert said.answer["survey"]["make"] == "one_bend"


def test_shots_come_from_a_csv_too(ask, tmp_path):
    file = tmp_path / "shots.csv"
    rows = [
        f"{axis},{x},{y},{z}" for axis, shots in (("a", A_SHOTS), ("b", on_b(40.0, 30.0, 120.0))) for x, y, z in shots
    ]
    file.write_text("axis,x,y,z\n" + "\n".join(rows) + "\n")
    said = ask(surveyed(A_SHOTS, survey=None), "--shots", str(file))
    assert said.code == 0
    assert said.answer["legs_mm"] == pytest.approx({"a": 40.0 * IN, "b": 30.0 * IN})


def test_ports_face_to_face_are_straight_pipe(ask):
    said = ask(surveyed([[84.0, 0.0, 0.0], [60.0, 0.0, 0.0]]))
    assert (said.code, [piece["kind"] for piece in said.answer["pieces"]]) == (0, ["pipe"])


def test_parallel_axes_apart_are_an_offset(ask):
    said = ask(surveyed([[124.0, 12.0, 0.0], [100.0, 12.0, 0.0]]))
    assert said.code == 0
    assert "parallel_axes" in said.codes
    first, second = said.answer["turns_deg"]
    assert first == pytest.approx(second, abs=1e-6)


def test_axes_that_cross_behind_a_port_are_said_and_not_built_as_one_bend(ask):
    said = ask(surveyed(on_b(-20.0, 40.0, 120.0)))
    assert "crosses_behind_port" in said.codes
    assert said.answer["survey"]["make"] == "two_bends"


def test_no_room_for_two_bends_leaves_with_1(ask):
    said = ask(surveyed([[9.0, 27.0, 2.0], [9.0, 3.0, 2.0]]))
    assert (said.code, "no_two_bend" in said.codes) == (1, True)


def test_explain_works_for_both(ask):
    assert "Cut A: leg" in ask(surveyed(on_b(40.0, 30.0, 142.0)), "--explain").out
    assert "Turn 2:" in ask(surveyed(on_b(60.0, 50.0, 120.0, up=6.0)), "--explain").out


@pytest.mark.parametrize(
    "survey",
    [
        {"a": {"shots": [[0, 0, 0]]}, "b": {"shots": A_SHOTS}},
        {"a": {"shots": A_SHOTS}},
        {"a": {"shots": A_SHOTS}, "b": {"port": [1, 2, 3]}},
        {"a": {"shots": A_SHOTS}, "b": {"port": [1, 2], "along": [1, 0, 0]}},
        {"a": {"shots": A_SHOTS}, "b": {"port": [1, 2, 3], "along": [0, 0, 0]}},
        {"a": {"shots": A_SHOTS}, "b": {"shots": [[1, 2, "x"], [3, 4, 5]]}},
        {"a": {"shots": 5}, "b": {"shots": A_SHOTS}},
        7,
    ],
    ids=str,
)
def test_shots_that_give_no_axis_leave_with_2_and_one_line(ask, survey):
    said = ask(surveyed(A_SHOTS, survey=survey))
    assert (said.code, said.err.count("\n"), said.out) == (2, 1, "")


@pytest.mark.parametrize(
    "text", ["", "a,0,0,0\n", "axis,x,y,z\nc,1,2,3\n", "axis,x,y,z\na,1,2\n", "axis,x,y,z\na,1,2,z\n"]
)
def test_a_file_of_shots_that_cannot_be_read_leaves_with_2(ask, tmp_path, text):
    file = tmp_path / "shots.csv"
    file.write_text(text)
    said = ask(surveyed(A_SHOTS, survey=None), "--shots", str(file))
    assert (said.code, said.err.count("\n")) == (2, 1)


def test_a_file_of_shots_that_is_not_there_leaves_with_2(ask, tmp_path):
    said = ask(surveyed(A_SHOTS, survey=None), "--shots", str(tmp_path / "none.csv"))
    assert (said.code, said.err.count("\n")) == (2, 1)


def test_readings_and_survey_at_once_are_asked_back(ask):
    both = surveyed(A_SHOTS, readings={"leg_a": "40", "leg_b": "30", "included_angle": 142})
    assert ask(both).code == 2


def port_and_mirror(turns, twist, legs):
    """Return port B of a two-bend spool from the origin along x, as a point and the way into the spool, in inches."""
    end = lay_out(CenterlineRequest(legs, turns, (twist,)))
    out = end.frames[-1].along
    return {"port": list(end.points[-1]), "along": [-part for part in out]}


def two_bends(ask, port_b, **more):
    """Run a survey from the origin along x to a port."""
    a = {"port": [0.0, 0.0, 0.0], "along": [1.0, 0.0, 0.0]}
    return ask(surveyed(A_SHOTS, survey={"a": a, "b": port_b}, **more))


def test_a_rolling_offset_is_met_by_whole_45s_where_the_make_up_is_free(ask):
    said = two_bends(ask, port_and_mirror((45.0, 45.0), 180.0, (30.0, 23.927, 30.0)), bend=None)
    assert said.code == 0
    assert said.answer["two_bend"][0]["bends"] == ["whole long radius elbow"] * 2
    assert said.answer["take_offs_mm"] == pytest.approx([2.5 * IN] * 2)
    assert said.answer["two_bend"][0]["middle_mm"] == pytest.approx(23.927 * IN)
    assert [piece["made_from"] for piece in said.answer["pieces"] if piece["kind"] == "elbow"] == ["LR45", "LR45"]


def test_a_make_up_that_is_asked_for_serves_both_bends(ask):
    said = two_bends(ask, port_and_mirror((45.0, 45.0), 180.0, (30.0, 23.927, 30.0)))
    assert said.code == 0
    assert said.answer["two_bend"][0]["bends"] == ["trimmed long radius elbow"] * 2


def test_the_two_bends_of_a_survey_can_be_made_up_each_in_its_own_way(ask):
    bends = [{"kind": "miter", "welds": 2, "bend_radius": "20"}, {"kind": "trimmed_elbow", "radius": "short"}]
    said = two_bends(ask, port_and_mirror((40.0, 55.0), 70.0, (40.0, 50.0, 40.0)), bend=None, bends=bends)
    assert said.code == 0
    assert said.answer["two_bend"][0]["bends"] == ["miter, 2 welds", "trimmed short radius elbow"]
    assert [piece["mark"] for piece in said.answer["pieces"]] == ["A", "M1", "P1", "E", "B"]


def test_three_make_ups_for_two_bends_are_refused(ask):
    said = two_bends(ask, port_and_mirror((40.0, 55.0), 70.0, (40.0, 50.0, 40.0)), bend=None, bends=[{}, {}, {}])
    assert said.code == 2
    assert "two bends" in said.err


def test_shots_of_several_tie_ins_are_refused_with_their_marks(ask, tmp_path):
    file = tmp_path / "shots.csv"
    rows = [f"{mark},{axis},{x},{y},0" for mark in ("T-1", "T-2") for axis in "ab" for x, y in ((0, 0), (9, 4))]
    file.write_text("mark,axis,x,y,z\n" + "\n".join(rows) + "\n")
    said = ask(surveyed(A_SHOTS, survey=None), "--shots", str(file))
    assert said.code == 2
    assert "2 tie-ins (T-1, T-2)" in said.err


def test_whole_elbows_asked_for_and_not_to_be_had_are_refused_in_words(ask):
    port_b = port_and_mirror((15.0, 12.0), 60.0, (20.0, 24.0, 20.0))
    said = two_bends(ask, port_b, bend__kind="whole_elbow")
    assert said.code == 1
    assert "no_two_bend" in said.codes
