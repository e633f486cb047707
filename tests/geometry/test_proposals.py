"""Make-ups ranked and refused."""

import pytest

from geometry.bends import BendChoice
from geometry.build import build
from geometry.proposals import propose
from tests.geometry.tie_ins import GROOVED, IN, tie_in


def words(proposals):
    """Return the ranked choices in words."""
    return [one.words for one in proposals.ranked]


def test_a_stock_elbow_goes_before_a_trimmed_one():
    assert words(propose(tie_in(included=135.0)))[:2] == ["whole long radius elbow", "trimmed long radius elbow"]


def test_what_needs_nobodys_yes_goes_before_fewer_welds():
    ranked = words(propose(tie_in(included=142.0)))
    assert ranked.index("trimmed short radius elbow") < ranked.index("miter, 1 weld")


def test_where_the_line_class_allows_miters_fewest_welds_come_first():
    allowed = propose(tie_in(included=142.0, bend=BendChoice(miters_allowed=True)))
    assert words(allowed)[0] == "miter, 1 weld"


def test_ranks_count_from_1_and_every_one_has_reasons():
    ranked = propose(tie_in(included=120.0)).ranked
    assert [one.rank for one in ranked] == list(range(1, len(ranked) + 1))
    assert all(one.reasons for one in ranked)


def test_every_proposal_is_what_build_makes_of_it():
    for one in propose(tie_in(included=100.0)).ranked:
        assert build(tie_in(included=100.0, bend=one.bend)).pieces == one.answer.pieces


def test_the_refused_say_why():
    refused = {one.words: one.findings for one in propose(tie_in(included=60.0)).refused}
    assert "take 3 welds" in refused["miter, 1 weld"][0].text
    assert "bend_radius" in refused["bent pipe"][0].text


def test_ranked_and_refused_are_all_there_are():
    proposals = propose(tie_in(14.0, 12.0, 60.0, end_a=GROOVED))
    assert proposals.ranked == ()
    assert len(proposals.refused) == 10


def test_bent_pipe_is_proposed_once_the_die_is_known():
    asked = tie_in(60.0, 60.0, 142.0, bend=BendChoice("bent_pipe", bend_radius_mm=20 * IN))
    assert any(word.startswith("bent pipe") for word in words(propose(asked)))


def test_a_reading_that_does_not_close_is_proposed_for_all_the_same():
    assert propose(tie_in(closing=70.0)).ranked


def test_straight_pipe_has_no_make_up():
    assert propose(tie_in(included=180.0)).ranked == ()


@pytest.mark.parametrize("included", [142.0, 100.0, 75.0])
def test_the_weld_length_grows_with_the_welds(included):
    miters = [one for one in propose(tie_in(60, 60, included)).ranked if "miter" in one.words]
    by_welds = sorted(miters, key=lambda one: one.welds)
    assert [one.weld_length_mm for one in by_welds] == sorted(one.weld_length_mm for one in miters)
