"""The command line: a request in, an answer out, and one line where it can't be read."""

import json
import subprocess
import sys

import pytest

from tests.geometry.requests import REQUEST, request, run


@pytest.fixture
def ask(monkeypatch, capsys):
    """Run the command on a request."""
    return lambda asked, *arguments: run(asked, *arguments, monkeypatch=monkeypatch, capsys=capsys)


def test_it_runs_as_a_program():
    done = subprocess.run(
        [sys.executable, "-m", "geometry"], input=json.dumps(REQUEST).encode(), capture_output=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert json.loads(done.stdout)["turn_deg"] == 38


def test_the_answer_holds_every_promised_key(ask):
    said = ask(REQUEST)
    assert said.code == 0
    assert {"legs_mm", "turn_deg", "take_off_mm", "pieces", "check_mm", "findings"} <= set(said.answer)
    assert said.answer["legs_mm"] == pytest.approx({"a": 40.3125 * 25.4, "b": 27.875 * 25.4})
    for piece in said.answer["pieces"]:
        assert {"mark", "kind", "cut_length_mm", "cut_length", "ends"} <= set(piece)
    for finding in said.answer["findings"]:
        assert {"level", "code", "text"} <= set(finding)


def test_cut_lengths_are_exact_in_mm_and_rounded_in_words(ask):
    a, _, b = ask(REQUEST).answer["pieces"]
    assert a["cut_length_mm"] / 25.4 == pytest.approx(40.3125 - 2.065967 - 0.09375, abs=1e-5)
    assert b["cut_length_mm"] / 25.4 == pytest.approx(27.875 - 2.065967 - 0.09375, abs=1e-5)
    assert {a["cut_length"], b["cut_length"]} <= {"3' 2-1/8\"", "3' 2-3/16\"", "2' 1-11/16\"", "2' 1-3/4\""}


def test_numbers_are_in_the_units_at_the_top(ask):
    metric = request(
        units="mm",
        readings={"leg_a": 1023.9375, "leg_b": 708.025, "included_angle": 142, "closing": 1641.475},
        root_gap=2.38125,
        graduation="1mm",
    )
    said = ask(metric)
    assert said.answer["pieces"][0]["cut_length_mm"] == pytest.approx(ask(REQUEST).answer["pieces"][0]["cut_length_mm"])
    assert said.answer["pieces"][0]["cut_length"].endswith(" mm")


def test_bare_text_beside_metric_units_is_asked_back(ask):
    said = ask(request(units="mm", readings__leg_a="912"))
    assert said.code == 2
    assert "write the unit" in said.err


def test_text_with_its_unit_is_taken_beside_any_units(ask):
    assert (
        ask(
            request(
                units="mm",
                readings__leg_a='40-5/16"',
                readings__leg_b="27.875 in",
                root_gap='3/32"',
                readings__burn="101.6 mm",
                readings__set_point="101.6 mm",
                readings__closing="1641 mm",
            )
        ).code
        == 0
    )


def test_what_cannot_be_built_leaves_with_1_and_findings(ask):
    said = ask(request(readings__leg_b="9"))
    assert said.code == 1
    assert said.answer["pieces"] == []
    assert "leg_too_short" in said.codes or "does_not_close" in said.codes


def test_a_reading_outside_the_jig_leaves_with_1(ask):
    said = ask(request(readings__included_angle=40))
    assert (said.code, said.codes) == (1, ["included_outside_jig"])


def test_a_reference_left_out_is_not_assumed(ask):
    said = ask(request(ends__a__measured_to=None))
    assert (said.code, "measured_to_missing" in said.codes) == (1, True)


def test_180_is_straight_pipe(ask):
    said = ask(request(readings__included_angle=180, readings__closing=None))
    assert said.code == 0
    assert [piece["kind"] for piece in said.answer["pieces"]] == ["pipe"]
    assert "straight_pipe" in said.codes


def test_burn_and_set_point_can_differ_by_side(ask):
    said = ask(request(readings__burn_b="1", readings__set_point_b="3/4", readings__closing=None))
    assert said.answer["legs_mm"] == pytest.approx({"a": 40.3125 * 25.4, "b": 27.625 * 25.4})


def test_a_burn_without_set_point_is_asked_back(ask):
    said = ask(request(readings__set_point=None))
    assert (said.code, "set_point" in said.err) == (2, True)


def test_a_root_gap_left_out_is_said(ask):
    assert "root_gap_default" in ask(request(root_gap=None)).codes


def test_a_misspelled_key_is_said_and_not_dropped_in_silence(ask):
    said = ask(request(readings__closeing="64"))
    assert said.code == 0
    assert any('"readings.closeing"' in finding["text"] for finding in said.answer["findings"])


def test_a_closing_brings_the_full_check_with_its_suspects(ask):
    said = ask(request(readings__leg_a="3' 5-5/16\"", readings__burn="1", readings__set_point="1"))
    assert said.code == 1
    assert said.answer["checks"]["closes"] is False
    assert said.codes.count("does_not_close") == 1
    assert {suspect["number"] for suspect in said.answer["checks"]["suspects"]} >= {"A"}


def test_d_and_e_are_checked_too(ask):
    legs = ask(request(readings__d="2' 11-5/8\"", readings__e="4' 5\""))
    assert [one["name"] for one in legs.answer["checks"]["measures"]] == ["C", "D", "E"]


def test_a_reading_let_go_by_a_named_person_is_built(ask):
    said = ask(request(readings__closing="5' 7\"", misclosure_accepted=True))
    assert said.code == 0
    assert {f["code"]: f["level"] for f in said.answer["findings"]}["does_not_close"] == "warning"


def test_the_sigmas_of_better_instruments_find_smaller_mistakes(ask):
    usual = ask(REQUEST).answer["checks"]["tolerance_mm"]
    better = ask(request(sigmas={"tape": "1/32", "protractor": 0.1, "closing": "1/32"})).answer["checks"]
    assert better["tolerance_mm"] == pytest.approx(usual * 1.40643 / 3.77551, rel=1e-5)  # both sigmas of C by hand


def test_fit_tells_the_chance_that_end_b_meets_its_joint(ask):
    coupled = {"prep": "grooved", "measured_to": "pipe_end", "coupling": "flexible"}
    said = ask(request(ends__b=coupled, fit=True, readings__leg_b="40", readings__closing=None))
    assert 0.0 < said.answer["fit"]["probability"] < 1.0
    better = ask(request(ends__b=coupled, fit={"built_to": "adjusted"}, sigmas={"tape": "1/64", "protractor": 0.1}))
    assert better.answer["fit"]["probability"] > said.answer["fit"]["probability"]


def test_fit_asks_which_coupling(ask):
    said = ask(request(ends__b={"prep": "grooved", "measured_to": "pipe_end"}, fit=True))
    assert (said.code, "flexible" in said.err) == (2, True)


def test_false_asks_for_nothing(ask):
    assert not {"fit", "wraps", "proposals"} & set(ask(request(fit=False, wraps=False, propose=False)).answer)


def test_propose_ranks_the_make_ups(ask):
    proposals = ask(request(propose=True)).answer["proposals"]
    assert proposals["ranked"][0]["words"] == "trimmed long radius elbow"
    assert all(one["reasons"] for one in proposals["refused"])


def test_in_space_names_every_point(ask):
    space = ask(request(in_space=True)).answer["in_space"]
    assert set(space["points_mm"]) == {"end A", "weld 1", "PI 1", "weld 2", "end B"}
    assert len(space["box_mm"]) == 3


def test_galvanized_tells_weight_and_vents(ask):
    zinc = ask(request(galvanized=True)).answer["galvanizing"]
    assert zinc["dipped_kg"] > zinc["black_kg"]
    assert "keep_ends_open" in [finding["code"] for finding in zinc["findings"]]


def test_wraps_come_with_the_pieces_they_are_for(ask):
    miter = request(wraps={"lines": 8}, bend={"kind": "miter", "welds": 3, "bend_radius": "18"})
    wraps = ask(miter).answer["wraps"]
    assert [(one["mark"], one["wrap"]["kind"]) for one in wraps] == [
        ("A", "miter end"),
        ("M1", "miter middle"),
        ("M2", "miter middle"),
        ("B", "miter end"),
    ]
    assert len(wraps[0]["wrap"]["ordinates"]) == 8


def test_a_trimmed_elbow_has_trim_marks(ask):
    [trim] = ask(request(wraps=True)).answer["wraps"]
    assert trim["trim"]["center_mm"] == pytest.approx(ask(REQUEST).answer["pieces"][1]["cut_length_mm"])


def test_a_saddle_end_has_its_wrap_and_the_mains_hole(ask):
    on_main = {"nps": "12", "schedule": "STD", "included_angle": 60}
    said = ask(request(wraps=True, ends__b={"prep": "saddle", "measured_to": "saddle_wall", "on_main": on_main}))
    saddle = said.answer["wraps"][-1]
    assert (saddle["mark"], saddle["at"], saddle["wrap"]["kind"]) == ("B", "end B", "saddle")
    assert saddle["hole"]["length_mm"] > 0


def test_a_saddle_can_be_asked_by_itself(ask):
    main = {"nps": "12", "schedule": "STD", "included_angle": 45, "edge": "outside"}
    said = ask({"pipe": {"nps": "4", "schedule": "40"}, "saddle": {"main": main}, "wraps": {"lines": 8}})
    ordinates = [round(line["ordinate_mm"] / 25.4, 4) for line in said.answer["wraps"][0]["wrap"]["ordinates"]]
    assert (said.code, ordinates[:5]) == (0, [0.0, 0.3737, 1.6698, 3.5557, 4.5])


def test_a_whole_spool_of_three_legs(ask):
    line = {"legs": ["40", "36", "40"], "turns": [45, 45], "twists": [90]}
    said = ask(request(readings=None, line=line))
    assert said.code == 0
    assert [piece["mark"] for piece in said.answer["pieces"]] == ["A", "E1", "P1", "E2", "B"]
    assert len(said.answer["legs_mm"]) == 3


def test_a_whole_spool_can_be_made_up_bend_by_bend(ask):
    line = {"legs": ["40", "36", "40"], "turns": [45, 38]}
    said = ask(request(readings=None, line=line, bends=[{"kind": "whole_elbow"}, {"kind": "miter"}]))
    assert [joint["kind"] for joint in said.answer["joints"]] == ["butt", "butt", "miter"]


def test_a_wrong_option_is_one_line(ask):
    said = ask(REQUEST, "--explian")
    assert (said.code, said.err.count("\n")) == (2, 1)


def test_help_documents_the_request(ask):
    said = ask("", "--help")
    assert (said.code, '"included_angle": 142' in said.out) == (0, True)


def test_explain_prints_the_working_line_by_line(ask):
    said = ask(REQUEST, "--explain")
    assert said.code == 0
    assert "Leg A: reading 40.3125 - burn 4.0000 + set point 4.0000 = 40.3125" in said.out
    assert "6.0000 x tan 19 = 6.0000 x 0.344328 = 2.0660." in said.out
    assert "= 38.1528" in said.out


def test_straight_pipe_with_its_closing_measure_is_built(ask):
    said = ask(request(readings__included_angle=180, readings__closing="68 3/16"))
    assert said.code == 0
    assert said.answer["checks"]["closes"] is True
    assert [piece["kind"] for piece in said.answer["pieces"]] == ["pipe"]
