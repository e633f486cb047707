"""Will end B meet its joint."""

from dataclasses import replace
from math import radians, tan

import numpy as np
import pytest

from geometry.adjust import readings_of
from geometry.allowances import JointAllowance, grooved, welded
from geometry.checks import CheckInput, MeasuringSigmas
from geometry.fit import BuildSigmas, FitInput, fit_probability, fit_report
from geometry.misfit import in_plane, levers_of, measured_spread, out_of_plane, variances_of_jig
from geometry.tables import pipe
from tests.geometry.simulated_builds import build, readings_errors
from tests.geometry.simulated_fits import calibration

IN = 25.4
EASY = JointAllowance(joint="test", short_mm=4.0, long_mm=4.0, offset_mm=5.0, turn_deg=1.0, source="test")
NOTHING = BuildSigmas(jig_play_mm=0.0, cut_mm=0.0, fit_up_mm=0.0, fit_up_turn_deg=0.0, fitting_turn_deg=0.0)


def request(a=36.0, b=24.0, included=135.0, joint=EASY, protractor=0.5, **more):
    measured = CheckInput(
        leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=included, sigmas=MeasuringSigmas(protractor_deg=protractor)
    )
    take_off = 6 * IN * tan(radians(180 - included) / 2)
    return FitInput(measured=measured, take_off_mm=take_off, allowance=joint, **more)


def drawn(asked, count=100_000, seed=1):
    rng = np.random.default_rng(seed)
    errors = readings_errors(asked.measured, asked.build.jig_play_mm, count, rng)
    return build(asked, *errors, rng)


@pytest.mark.parametrize("included", [60.0, 90.0, 120.0, 135.0, 165.0])
@pytest.mark.parametrize("b", [24.0, 60.0])
def test_sigmas_agree_with_a_nonlinear_simulation_within_one_percent(b, included):
    asked = request(b=b, included=included)
    report, misses = fit_report(asked), drawn(asked)
    assert report.sigma_axial_mm == pytest.approx(misses.axial.std(), rel=0.01)
    assert report.sigma_lateral_mm == pytest.approx(misses.lateral.std(), rel=0.01)
    assert report.sigma_vertical_mm == pytest.approx(misses.vertical.std(), rel=0.01)
    assert report.sigma_turn_deg == pytest.approx(np.degrees(misses.turn.std()), rel=0.01)


@pytest.mark.parametrize(
    ("a", "b", "included", "protractor"),
    [(36, 24, 135, 0.5), (50, 15, 62, 0.25)],
)
def test_the_chance_is_within_two_thousandths_of_a_million_nonlinear_draws(a, b, included, protractor):
    asked = request(a, b, included, protractor=protractor)
    share = drawn(asked, count=1_000_000).fits(asked.allowance).mean()
    assert fit_probability(asked) == pytest.approx(share, abs=0.002)


def test_misfits_are_not_treated_as_independent():
    """Trap 17: lateral and angle come from the same mistake; multiplying their chances gives too little."""
    asked = request(b=24.0, included=135.0)
    misses = drawn(asked)
    limit = np.radians(EASY.turn_deg)
    apart = (
        (np.abs(misses.axial) <= EASY.long_mm).mean()
        * (np.abs(misses.lateral) <= EASY.offset_mm).mean()
        * (np.abs(misses.turn) <= limit).mean()
        * (np.abs(misses.vertical) <= EASY.offset_mm).mean()
    )
    assert fit_probability(asked) > apart + 0.01


def test_degrees_become_radians_before_they_meet_the_lever():
    """Trap 17: half a degree at the end of 24 in is 0.209 in, not 12 in."""
    asked = request(b=24.0, protractor=0.5, build=NOTHING)
    turn_alone = 24.0 * IN * radians(0.5)
    tape_part = asked.measured.sigmas.tape_mm * np.sin(radians(45.0))
    assert fit_report(asked).sigma_lateral_mm == pytest.approx(np.hypot(turn_alone, tape_part), rel=1e-9)


def test_leg_b_and_not_leg_a_is_the_lever_of_a_wrong_turn():
    short, long = fit_report(request(b=20.0)), fit_report(request(b=40.0))
    assert long.sigma_lateral_mm > 1.8 * short.sigma_lateral_mm
    assert fit_report(request(a=80.0)).sigma_lateral_mm == fit_report(request(a=40.0)).sigma_lateral_mm


def test_included_and_turn_are_not_exchanged_in_the_levers():
    """Trap 2: at 150 included (turn 30) most of leg A's error goes along leg B, not across."""
    levers = levers_of(request(included=150.0))
    assert levers.leg_a == pytest.approx((0.0, -0.5, 0.8660254), abs=1e-6)


def test_the_analytic_levers_are_the_slopes_of_the_walked_spool():
    asked = request(b=30.0, included=110.0, build=NOTHING)
    nothing, rng = np.zeros(1), np.random.default_rng(0)
    step = np.full(1, 1e-5)
    for errors, lever in (
        ((step, nothing, nothing), levers_of(asked).leg_a),
        ((nothing, step, nothing), levers_of(asked).leg_b),
        ((nothing, nothing, step), levers_of(asked).included),
    ):
        missed = build(asked, *errors, rng)
        slopes = (missed.turn[0] / 1e-5, missed.lateral[0] / 1e-5, missed.axial[0] / 1e-5)
        assert slopes == pytest.approx(lever, abs=1e-2, rel=1e-4)


def test_a_closing_measure_raises_the_chance():
    asked = request()
    checked = replace(asked, measured=replace(asked.measured, closing_mm=55.6227 * IN))
    assert fit_probability(checked) > fit_probability(asked) + 0.02


def test_readings_that_disagree_fit_worse_than_the_adjusted_figures():
    asked = request()
    off = replace(asked, measured=replace(asked.measured, closing_mm=55.85 * IN))
    adjusted = replace(off, built_to="adjusted")
    assert fit_probability(adjusted) > fit_probability(off) + 0.02
    assert "build_to_adjusted" in [finding.code for finding in fit_report(off).findings]


def test_on_a_long_leg_b_the_included_angle_is_the_one_to_repeat():
    asked = request(b=30.0)
    checked = replace(asked, measured=replace(asked.measured, closing_mm=61.16 * IN))
    report = fit_report(checked)
    assert report.best_repeat.number == "included"
    assert report.best_repeat.probability > report.probability


def test_without_c_the_best_next_measure_is_c():
    assert fit_report(request(b=24.0, included=100.0)).best_repeat.number == "C"


def test_nothing_is_repeated_where_nothing_is_gained():
    sure = replace(EASY, short_mm=50.0, long_mm=50.0, offset_mm=60.0, turn_deg=10.0)
    report = fit_report(request(joint=sure))
    assert report.best_repeat is None
    assert report.probability == pytest.approx(1.0, abs=1e-6)
    assert report.findings == ()


def test_a_doubtful_fit_says_what_to_measure_again():
    finding = fit_report(request(b=60.0)).findings[0]
    assert finding.code == "fit_doubtful"
    assert "End B may not meet" in finding.text


def test_beyond_first_order_it_is_said():
    """Trap 18: at 1 degree and leg B 60 in the axial misfit shortens by 0.009 in on average; beyond 0.01 it is said."""
    near = fit_report(request(b=60.0, protractor=1.0, build=NOTHING))
    beyond = fit_report(request(b=60.0, protractor=1.5, build=NOTHING))
    assert "fit_first_order" not in [finding.code for finding in near.findings]
    assert "fit_first_order" in [finding.code for finding in beyond.findings]


def test_field_trim_on_end_b_makes_a_weld_likelier_to_meet():
    row = pipe("6", "40")
    assert fit_probability(request(joint=welded(row, field_trim_mm=50.0))) > fit_probability(request(joint=welded(row)))


def test_a_better_protractor_never_lowers_the_chance():
    joint = grooved(pipe("4", "40"), coupling="flexible")
    chances = [fit_probability(request(joint=joint, protractor=sigma)) for sigma in (1.0, 0.5, 0.25, 0.1)]
    assert chances == sorted(chances)


def test_the_covariance_is_symmetric_and_its_correlation_real():
    asked = request()
    covariance, _ = measured_spread(asked, readings_of(asked.measured), variances_of_jig(asked))
    spread = np.array(in_plane(asked, levers_of(asked), covariance))
    assert np.allclose(spread, spread.T)
    assert np.linalg.eigvalsh(spread).min() > 0.0
    assert abs(spread[0, 1]) / np.sqrt(spread[0, 0] * spread[1, 1]) > 0.9
    assert out_of_plane(asked, levers_of(asked))[1] > 0.0


def test_stated_chances_come_true():
    """The full 2,000 builds in each tenth are printed by tests/benchmarks/fit_calibration.py; here 50, seeded."""
    tenths = calibration(50, 7)
    assert np.mean([true - stated for stated, true in tenths]) == pytest.approx(0.0, abs=0.03)
    assert all(true == pytest.approx(stated, abs=0.15) for stated, true in tenths)
