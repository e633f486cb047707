"""Every end preparation: what it takes off, what the shop does, and what stops it."""

from dataclasses import replace
from math import cos, pi, radians, sin

import pytest

from geometry.ends import END_PREPS, MEASURED_TO, EndChoice, OnMain, UnknownEnd, end_prep
from geometry.tables import all_pipes, groove, pipe, thread, weld_neck

IN = 25.4
FOUR = pipe("4", "40")


def codes(effect):
    """Return the codes of an effect's findings."""
    return [finding.code for finding in effect.findings]


def errors(effect):
    """Return the codes of an effect's errors."""
    return [finding.code for finding in effect.findings if finding.level == "error"]


def effect_of(prep, measured_to, of=FOUR, **more):
    """Return the effect of one end."""
    return end_prep(prep).effect(of, EndChoice(prep, measured_to, **more))


def test_there_is_one_preparation_of_each_code():
    assert [prep.code for prep in END_PREPS] == [
        "plain",
        "beveled",
        "grooved",
        "flanged_slip_on",
        "flanged_weld_neck",
        "threaded",
        "saddle",
    ]


def test_an_unknown_preparation_names_those_there_are():
    with pytest.raises(UnknownEnd, match="choose plain, beveled, grooved"):
        end_prep("victory")


@pytest.mark.parametrize("prep", END_PREPS, ids=lambda prep: prep.code)
def test_every_preparation_begins_with_the_cut(prep):
    assert prep.operations[0] == "cut"


@pytest.mark.parametrize("prep", END_PREPS, ids=lambda prep: prep.code)
def test_a_leg_with_no_said_reference_is_an_error_that_names_the_accepted_ones(prep):
    effect = prep.effect(FOUR, EndChoice(prep.code, "", on_main=OnMain(od_mm=323.85, wall_mm=9.525)))
    finding = next(finding for finding in effect.findings if finding.code == "measured_to_missing")
    assert finding.level == "error"
    assert "choose" in finding.text


@pytest.mark.parametrize("prep", END_PREPS, ids=lambda prep: prep.code)
@pytest.mark.parametrize("measured_to", [*MEASURED_TO, "the wall"])
def test_a_reference_that_does_not_fit_is_an_error(prep, measured_to):
    choice = EndChoice(prep.code, measured_to, on_main=OnMain(od_mm=323.85, wall_mm=9.525))
    found = errors(prep.effect(FOUR, choice))
    assert ("measured_to_unfit" in found) == (measured_to not in prep.measured_to)


@pytest.mark.parametrize("prep", END_PREPS, ids=lambda prep: prep.code)
def test_a_leg_measured_to_the_pipe_end_loses_nothing(prep):
    if "pipe_end" in prep.measured_to:
        assert prep.effect(FOUR, EndChoice(prep.code, "pipe_end")).deduction_mm == 0


@pytest.mark.parametrize("row", all_pipes(), ids=lambda row: row.name)
@pytest.mark.parametrize("prep", END_PREPS, ids=lambda prep: prep.code)
def test_every_end_answers_for_every_pipe(prep, row):
    for measured_to in prep.measured_to:
        effect = prep.effect(row, EndChoice(prep.code, measured_to))
        assert effect.operations == prep.operations


def test_field_trim_lengthens_plain_and_beveled_ends():
    assert effect_of("plain", "pipe_end", field_trim_mm=50.8).deduction_mm == -50.8
    assert effect_of("beveled", "pipe_end", field_trim_mm=50.8).deduction_mm == -50.8


def test_a_beveled_end_with_field_trim_says_that_the_bevel_goes_with_it():
    assert "bevel_trimmed_off" in codes(effect_of("beveled", "pipe_end", field_trim_mm=50.8))


@pytest.mark.parametrize("prep", ["grooved", "flanged_slip_on", "flanged_weld_neck", "threaded", "saddle"])
def test_a_finished_end_refuses_field_trim(prep):
    effect = end_prep(prep).effect(FOUR, EndChoice(prep, "pipe_end", field_trim_mm=25.4))
    assert "field_trim_refused" in errors(effect)


@pytest.mark.parametrize("trim_mm", [-25.4, float("nan"), float("inf")])
def test_a_trim_that_is_no_length_is_an_error(trim_mm):
    assert "end_dimension_bad" in errors(effect_of("plain", "pipe_end", field_trim_mm=trim_mm))


@pytest.mark.parametrize(
    ("nps", "schedule", "words"),
    [
        ("4", "40", 'bevel 37-1/2 degrees, land 1/16"'),
        ("4", "10S", "square or slight chamfer"),
        ("24", "80", 'compound bevel 37-1/2 degrees, 10 degrees from 3/4" above the inside, land 1/16"'),
    ],
)
def test_the_ticket_says_the_bevel(nps, schedule, words):
    assert effect_of("beveled", "pipe_end", of=pipe(nps, schedule)).words == words


def test_an_unknown_root_process_is_an_error():
    assert "root_process_unknown" in errors(effect_of("beveled", "pipe_end", root_process="GLUE"))


@pytest.mark.parametrize(("coupling", "gap_in"), [("flexible", 0.125), ("rigid", 0.125)])
def test_half_the_coupling_gap_comes_off_a_leg_measured_to_the_coupling_center(coupling, gap_in):
    effect = effect_of("grooved", "coupling_center", coupling=coupling)
    assert effect.deduction_mm == pytest.approx(gap_in * IN / 2)
    assert codes(effect) == ["coupling_gap_generic"]


def test_the_gap_of_the_coupling_bought_outweighs_the_generic_one():
    effect = effect_of("grooved", "coupling_center", coupling_gap_mm=6.4)
    assert effect.deduction_mm == 3.2
    assert codes(effect) == []


def test_a_leg_to_the_coupling_center_needs_to_know_which_coupling():
    assert errors(effect_of("grooved", "coupling_center")) == ["coupling_missing"]
    assert errors(effect_of("grooved", "coupling_center", coupling="loose")) == ["coupling_missing"]


def test_a_wall_under_the_rolling_minimum_must_not_be_rolled():
    thin = replace(FOUR, wall_mm=groove("4").minimum_wall_mm - 0.01, wall_in=0.0826)
    effect = effect_of("grooved", "pipe_end", of=thin)
    assert errors(effect) == ["wall_under_groove"]
    assert effect.findings[0].text.startswith("Do not roll groove")


def test_a_size_without_a_groove_is_an_error_and_no_guess():
    assert errors(effect_of("grooved", "pipe_end", of=pipe("3/4", "40"))) == ["groove_unknown"]


def test_the_groovers_shortest_piece_says_where_it_is_from_and_can_be_the_shops_own():
    generic = effect_of("grooved", "pipe_end")
    assert generic.minimum_straight_mm == pytest.approx(8 * IN)
    assert "from memory" in generic.minimum_straight_source
    own = effect_of("grooved", "pipe_end", groover_straight_mm=140.0)
    assert own.minimum_straight_mm == 140.0
    assert own.minimum_straight_source == "the shop's own groover"


def test_for_large_pipe_the_groovers_shortest_piece_is_said_to_be_unsure():
    assert codes(effect_of("grooved", "pipe_end", of=pipe("6", "40"))) == []
    assert codes(effect_of("grooved", "pipe_end", of=pipe("8", "40"))) == ["groover_straight_unsure"]
    assert codes(effect_of("grooved", "pipe_end", of=pipe("8", "40"), groover_straight_mm=250.0)) == []


def test_only_a_grooved_end_needs_a_straight():
    for prep in END_PREPS:
        effect = prep.effect(FOUR, EndChoice(prep.code, prep.measured_to[0]))
        assert (effect.minimum_straight_mm > 0) == (prep.code == "grooved")


def test_a_slip_on_is_set_back_by_wall_and_an_eighth():
    effect = effect_of("flanged_slip_on", "flange_face")
    assert effect.deduction_mm == pytest.approx((0.237 + 0.125) * IN)
    assert effect.beyond_pipe_mm == pytest.approx(effect.deduction_mm)
    assert effect_of("flanged_slip_on", "flange_face", flange_setback_mm=9.0).deduction_mm == 9.0


def test_a_slip_on_of_a_size_without_a_standard_flange_must_be_measured():
    assert errors(effect_of("flanged_slip_on", "flange_face", of=pipe("22", "STD"))) == ["flange_size_unknown"]
    own = effect_of("flanged_slip_on", "flange_face", of=pipe("22", "STD"), flange_setback_mm=13.0)
    assert errors(own) == []


def test_a_weld_neck_takes_its_length_and_one_root_gap():
    effect = effect_of("flanged_weld_neck", "flange_face", root_gap_mm=2.0)
    assert effect.deduction_mm == pytest.approx(weld_neck("4").face_to_bevel_mm + 2.0)
    assert effect.operations == ("cut", "beveled", "flange welded")
    own = effect_of("flanged_weld_neck", "flange_face", root_gap_mm=2.0, flange_length_mm=80.0)
    assert own.deduction_mm == 82.0


def test_the_face_stands_beyond_the_pipe_also_where_the_leg_was_measured_to_the_pipe():
    effect = effect_of("flanged_weld_neck", "pipe_end", root_gap_mm=2.0)
    assert effect.deduction_mm == 0
    assert effect.beyond_pipe_mm == pytest.approx(weld_neck("4").face_to_bevel_mm + 2.0)


def test_an_assumed_root_gap_at_the_flange_is_said():
    assert "flange_gap_default" in codes(effect_of("flanged_weld_neck", "flange_face"))


def test_a_weld_neck_that_the_table_lacks_is_an_error_and_no_guess():
    effect = effect_of("flanged_weld_neck", "flange_face", flange_class="300", root_gap_mm=2.0)
    assert errors(effect) == ["weld_neck_unknown"]
    assert "Give the flange's own length" in effect.findings[0].text


def test_a_threaded_leg_to_the_fitting_center_loses_its_face_and_gains_the_engagement():
    effect = effect_of("threaded", "fitting_center", of=pipe("2", "40"), fitting_face_mm=2.25 * IN)
    assert effect.deduction_mm == pytest.approx(2.25 * IN - thread("2").working_engagement_mm)
    assert codes(effect) == ["engagement_normal"]
    own = effect_of("threaded", "fitting_center", of=pipe("2", "40"), fitting_face_mm=57.15, engagement_mm=18.0)
    assert own.deduction_mm == pytest.approx(39.15)


def test_a_threaded_leg_to_the_fitting_center_needs_the_fittings_face():
    assert errors(effect_of("threaded", "fitting_center", of=pipe("2", "40"))) == ["fitting_face_missing"]


def test_thin_pipe_is_not_threaded():
    assert errors(effect_of("threaded", "pipe_end", of=pipe("2", "10S"))) == ["wall_under_thread"]


def test_a_saddle_needs_to_know_its_main():
    assert errors(effect_of("saddle", "saddle_wall")) == ["saddle_main_missing"]


@pytest.mark.parametrize("offset_mm", [0.0, 40.0, -40.0])
@pytest.mark.parametrize("included_deg", [90.0, 60.0, 45.0, 135.0])
def test_a_set_on_saddle_ends_where_its_outside_edge_meets_the_main(included_deg, offset_mm):
    """Second method: walk around the outside edge in small steps and take the farthest place by bisection."""
    main = OnMain(od_mm=323.85, wall_mm=9.525, included_deg=included_deg, offset_mm=offset_mm, edge="outside")
    effect = effect_of("saddle", "saddle_wall", on_main=main)
    b, big, small = radians(included_deg), main.od_mm / 2, FOUR.od_mm / 2

    def outside_main(along_mm, across_mm, up_mm):
        """Tell whether a point on the branch, `along_mm` from the main's center, is outside the main."""
        height = along_mm * sin(b) + up_mm * cos(b)
        return (across_mm + offset_mm) ** 2 + height**2 > big**2

    def reach(across_mm, up_mm):
        low, high = 0.0, 3000.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (low, middle) if outside_main(middle, across_mm, up_mm) else (middle, high)
        return high

    nearest = min(reach(small * sin(k * pi / 1800), small * cos(k * pi / 1800)) for k in range(3600))
    assert effect.deduction_mm == pytest.approx(nearest - reach(0.0, 0.0), abs=0.01)
    assert errors(effect) == []


def test_a_set_in_saddle_is_longer_by_about_the_mains_wall():
    on = effect_of("saddle", "saddle_wall", on_main=OnMain(od_mm=323.85, wall_mm=9.525, edge="outside"))
    inside = effect_of(
        "saddle", "saddle_wall", on_main=OnMain(od_mm=323.85, wall_mm=9.525, seat="set-in", edge="outside")
    )
    assert on.deduction_mm - inside.deduction_mm == pytest.approx(9.525, rel=0.2)


def test_a_branch_wider_than_its_main_is_an_error():
    assert errors(effect_of("saddle", "saddle_wall", on_main=OnMain(od_mm=100.0, wall_mm=6.0))) == ["saddle_refused"]


@pytest.mark.parametrize("prep", ["flanged_slip_on", "flanged_weld_neck"])
def test_a_flange_is_not_weighed_and_that_is_said(prep):
    assert "flange_not_weighed" in codes(effect_of(prep, "flange_face"))
