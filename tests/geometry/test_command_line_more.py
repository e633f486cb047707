"""The command line beyond the pieces: rolling offsets, grade, zinc, and the working of checks and fit."""

import re

import pytest

from tests.geometry.requests import request, run

IN = 25.4
PIPE = {"nps": "4", "schedule": "40"}
PLAIN_ENDS = {side: {"prep": "plain", "measured_to": "pipe_end"} for side in "ab"}


@pytest.fixture
def ask(monkeypatch, capsys):
    """Run the command on a request."""
    return lambda asked, *arguments: run(asked, *arguments, monkeypatch=monkeypatch, capsys=capsys)


def rolling(**more):
    """Return a rolling offset of trimmed 45s: set 14, roll 9-1/2."""
    asked = {"set": "14", "roll": "9-1/2", "turn": 45, **more}
    return {"pipe": PIPE, "rolling": asked, "ends": PLAIN_ENDS, "root_gap": 0}


def test_a_rolling_offset_gives_travel_run_roll_and_the_pipe_between(ask):
    """4 in, trimmed 45s, set 14 roll 9-1/2. Source: derived, Pythagoras."""
    said = ask(rolling())
    assert said.code == 0
    sides = said.answer["rolling_offset"]
    assert sides["true_offset_mm"] / IN == pytest.approx(16.9189, abs=1e-4)
    assert sides["travel_mm"] / IN == pytest.approx(23.927, abs=1e-4)
    assert sides["run_mm"] / IN == pytest.approx(16.9189, abs=1e-4)
    assert sides["roll_deg"] == pytest.approx(34.1597, abs=1e-4)
    assert [take / IN for take in sides["take_offs_mm"]] == pytest.approx([2.4853, 2.4853], abs=1e-4)
    assert sides["pipe_between_mm"] / IN == pytest.approx(18.9564, abs=1e-4)


def test_a_rolling_offset_with_its_outer_legs_is_a_spool_that_ends_set_and_roll_away(ask):
    said = ask(rolling(leg_a=24, leg_b="18") | {"in_space": True})
    assert said.code == 0
    assert [piece["mark"] for piece in said.answer["pieces"]] == ["A", "E1", "P1", "E2", "B"]
    end = said.answer["in_space"]["points_mm"]["end B"]
    assert [value / IN for value in end] == pytest.approx([24 + 16.9189 + 18, 16.9189, 0.0], abs=1e-4)


def test_whole_45s_take_off_what_their_table_says(ask):
    said = ask(rolling() | {"bend": {"kind": "whole_elbow"}})
    assert [take / IN for take in said.answer["rolling_offset"]["take_offs_mm"]] == pytest.approx([2.5, 2.5])


@pytest.mark.parametrize(
    "more", [{"turn": 0}, {"turn": 95}, {"set": None}, {"leg_a": "24"}, {"set": "3-4"}, {"turn": "about 45"}]
)
def test_a_rolling_offset_that_cannot_be_leaves_with_2(ask, more):
    said = ask(rolling(**more))
    assert said.code == 2
    assert said.err.count("\n") == 1


def test_a_rolling_offset_of_three_bends_is_refused(ask):
    said = ask(rolling() | {"bends": [{}, {}, {}]})
    assert said.code == 2
    assert "two bends" in said.err


def test_a_grade_gives_fall_and_true_included_angle(ask):
    """1/4 per ft over 23'-6", and into a main at 1/8 per ft at 45 on the plan. Source: derived."""
    grade = {"run": "23' 6\"", "slope": 0.25, "plan_included_angle": 45, "main_slope": 0.125}
    said = ask({"pipe": PIPE, "grade": grade})
    assert said.code == 0
    assert said.answer["grade"]["fall_mm"] / IN == pytest.approx(5.875)
    assert said.answer["grade"]["true_included_deg"] == pytest.approx(44.998, abs=1e-3)
    assert said.codes == []


def test_a_drain_that_falls_too_little_or_back_is_said(ask):
    assert ask({"pipe": PIPE, "grade": {"run": "10 ft", "slope": 0.0625}}).codes == ["fall_too_small"]
    assert ask({"pipe": PIPE, "grade": {"run": "10 ft", "slope": -0.25}}).codes == ["backfall"]


def zinc(ask, **more):
    """Return the codes of what is said of a galvanized tie-in."""
    said = ask(request(**more))
    assert said.code == 0
    return [finding["code"] for finding in said.answer["galvanizing"]["findings"]]


def test_field_trim_on_a_galvanized_spool_raises_the_zinc_fume_warning(ask):
    grooved = {"prep": "grooved", "measured_to": "pipe_end"}
    trimmed = {"prep": "plain", "measured_to": "pipe_end", "field_trim": "2"}
    assert "zinc_fume" not in zinc(ask, galvanized=True, ends={"a": grooved, "b": grooved})
    assert "zinc_fume" in zinc(ask, galvanized=True, ends={"a": grooved, "b": trimmed})


def test_work_after_coating_that_is_named_raises_it_too(ask):
    grooved = {"prep": "grooved", "measured_to": "pipe_end"}
    assert "zinc_fume" in zinc(ask, galvanized={"work_after": ["ground"]}, ends={"a": grooved, "b": grooved})


def test_an_open_spool_needs_no_vent_and_keeps_its_ends_open(ask):
    assert "keep_ends_open" in zinc(ask, galvanized=True)


def test_both_ends_shut_is_a_sealed_cavity_and_says_stop(ask):
    both = {"closed": {"a": {"by": "blind flange"}, "b": {"by": "cap"}}}
    said = ask(request(galvanized=both))
    stop = next(one for one in said.answer["galvanizing"]["findings"] if one["code"] == "sealed_cavity")
    assert stop["level"] == "error"
    assert stop["text"].startswith("STOP. Sealed cavity can burst in the zinc bath. Vent it.")


def test_a_shut_end_with_holes_enough_is_vented(ask):
    assert "end_not_vented" in zinc(ask, galvanized={"closed": {"a": {"by": "cap"}}})
    assert "vent_too_small" in zinc(ask, galvanized={"closed": {"a": {"by": "cap", "holes": 2, "hole": "1/2"}}})
    vented = zinc(ask, galvanized={"closed": {"a": {"by": "cap", "holes": 2, "hole": "1-9/16"}}})
    assert not {"end_not_vented", "vent_too_small", "sealed_cavity"} & set(vented)


def test_an_unvented_pad_says_stop(ask):
    assert "sealed_cavity" in zinc(ask, galvanized={"pads": [{"length": "6", "width": "6"}]})
    assert "pad_small" in zinc(ask, galvanized={"pads": [{"length": "3", "width": "3"}]})


@pytest.mark.parametrize(
    "asked",
    [
        {"work_after": ["painted"]},
        {"work_after": "welded"},
        {"closed": "a"},
        {"closed": {"a": {"holes": -1}}},
        {"closed": {"a": {"holes": 1.5}}},
        {"pads": {"length": 3}},
        {"pads": [{"length": "6"}]},
        3,
    ],
    ids=str,
)
def test_zinc_that_cannot_be_read_leaves_with_2(ask, asked):
    said = ask(request(galvanized=asked))
    assert said.code == 2
    assert said.err.count("\n") == 1


def test_a_live_line_is_said_and_an_isolated_one_is_not(ask):
    assert "line_live" in ask(request(line_live=True)).codes
    assert "line_live" not in ask(request(line_live=False)).codes
    assert ask(request(line_live="yes")).code == 2


def test_the_working_prints_what_moves_c_and_what_is_not_seen(ask):
    said = ask(request(), "--explain").out
    assert re.search(r"C moves 0\.964 for 1 of leg A, 0\.923 for 1 of leg B, 0\.1869 for a degree\.", said)
    assert re.search(r"Smallest error in leg A found 8 times in 10: 0\.5269\.", said)
    assert re.search(r"Smallest error in the included angle found 8 times in 10: 2\.72 degrees\.", said)


def test_the_working_prints_fit_wraps_size_zinc_and_make_ups_where_they_are_asked_for(ask):
    asked = request(fit=True, wraps={"lines": 8}, in_space=True, galvanized=True, propose=True)
    said = ask(asked, "--explain").out
    for words in (
        "Chance that all are inside at once:",
        "E at weld 2: trim marks",
        "Center of gravity:",
        "Zinc at the standard's minimum:",
        "Make-up 1: trimmed long radius elbow;",
        "Not bent pipe:",
    ):
        assert words in said


def test_the_working_of_a_survey_begins_with_its_axes(ask):
    survey = {"a": {"shots": [[-24, 0, 0], [0, 0, 0]]}, "b": {"shots": [[90, 40, 0], [60, 10, 0]]}}
    said = ask(request(readings=None, survey=survey, ends=PLAIN_ENDS), "--explain")
    assert said.code == 0
    assert said.out.startswith("Port A: (0.0000, 0.0000, 0.0000); into the spool along (1.000000")
    assert "Nearest each other 50.0000 beyond port A and 14.1421 beyond port B" in said.out
    assert "One bend, in the plane of both axes." in said.out


def test_the_working_of_a_whole_spool_says_how_its_lengths_were_rounded(ask):
    line = {"legs": ["30.03", "40.03", "30.03"], "turns": [40, 50], "twists": [30]}
    said = ask(request(readings=None, line=line, ends=PLAIN_ENDS), "--explain").out
    assert "Rounded together: the pieces are" in said


def test_a_miter_with_less_pipe_beside_it_than_the_code_wants_asks_the_engineer(ask):
    """NPS 6, two welds, turn 45: M is the larger of 2.5 sqrt(r2 T) and tan(theta) (R1 - r2)."""
    miter = {"kind": "miter", "welds": 2, "bend_radius": "40", "miters_allowed": True}
    short = request(
        pipe__nps="6", readings={"leg_a": "15", "leg_b": "60", "included_angle": 135}, bend=miter, ends=PLAIN_ENDS
    )
    said = ask(short)
    found = next(one for one in said.answer["findings"] if one["code"] == "miter_end_short")
    figures = {one["name"]: one["value"] for one in found["figures"]}
    mean, wall = (168.275 - 7.112) / 2, 7.112
    wanted = max(2.5 * (mean * wall) ** 0.5, 0.19891237 * (40 * IN - mean))
    assert figures["wanted by the code"] == pytest.approx(wanted, rel=1e-6)
    assert figures["left"] < wanted
    assert (
        "miter_end_short" not in ask(short | {"readings": {"leg_a": "60", "leg_b": "60", "included_angle": 135}}).codes
    )
