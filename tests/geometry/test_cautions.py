"""Each caution at its exact trigger, and silent beside it."""

import pytest

from geometry.cautions import (
    ends_after_dipping,
    hot_work_on_zinc,
    kettle_size,
    line_not_isolated,
    may_move_in_the_bath,
)

FT = 304.8


def codes(findings):
    """Return the codes of findings."""
    return [finding.code for finding in findings]


@pytest.mark.parametrize(
    ("box_ft", "asked"),
    [
        ((30.0, 5.0, 1.0), False),
        ((30.01, 1.0, 1.0), True),
        ((20.0, 5.01, 1.0), True),
        ((1.0, 20.0, 5.01), True),
        ((4.0, 4.0, 4.0), False),
    ],
)
def test_the_kettle_is_asked_for_over_30_ft_or_over_5_ft_wide(box_ft, asked):
    assert bool(kettle_size(box_mm=[side * FT for side in box_ft])) == asked


@pytest.mark.parametrize("work", ["cut", "beveled", "coped", "ground", "welded", "flange welded", "field trim"])
def test_hot_work_on_zinc_is_warned_of(work):
    assert codes(hot_work_on_zinc(galvanized=True, work_after=("tagged", work))) == ["zinc_fume"]
    assert codes(hot_work_on_zinc(galvanized=False, work_after=(work,))) == []


def test_cold_work_on_zinc_is_not():
    assert codes(hot_work_on_zinc(galvanized=True, work_after=("grooved", "threaded"))) == []


def test_grooves_and_threads_are_looked_at_after_dipping_only():
    assert codes(ends_after_dipping(galvanized=True, preps=("grooved", "threaded"))) == [
        "groove_after_dipping",
        "thread_after_dipping",
    ]
    assert codes(ends_after_dipping(galvanized=True, preps=("plain", "beveled"))) == []
    assert codes(ends_after_dipping(galvanized=False, preps=("grooved",))) == []


def test_a_bent_spool_is_measured_again_after_the_bath_and_a_straight_one_is_not():
    assert codes(may_move_in_the_bath(galvanized=True, turns_deg=(0.0, 12.0))) == ["may_move_in_the_bath"]
    assert codes(may_move_in_the_bath(galvanized=True, turns_deg=(0.0,))) == []
    assert codes(may_move_in_the_bath(galvanized=True, turns_deg=())) == []


@pytest.mark.parametrize(("live", "warned"), [(True, True), (None, True), (False, False)])
def test_a_line_that_is_live_or_unspoken_of_is_warned_of(live, warned):
    assert bool(line_not_isolated(line_live=live)) == warned
