"""The weigh-back check against simulated trucks: what it finds, what it can't, and that it says so.

The simulation draws pipe, zinc and scale errors itself, piece by piece, and knows nothing of the formulas it tests.
"""

from random import Random

import pytest

from spools.flow.weigh_back import (
    FALSE_ALARM,
    LOAD_ZINC_SCATTER,
    PIECE_ZINC_SCATTER,
    PIPE_SCATTER,
    SURE,
    USUAL_OVER_MINIMUM,
    Weighed,
    chance_seen,
    check_back,
    check_out,
)

LB = 0.45359237
RUNS = 4000
THIRTY_ONE = [Weighed(84 * LB, 1.9 * LB)] * 31
MIXED = [Weighed((45 + 3 * n) * LB, (1.0 + 0.06 * n) * LB) for n in range(31)]


def truck(pieces, rng, *, scale_kg, lost=0, zinc_times=1.0):
    """Weigh a truck out and back as it would happen; ``lost`` pieces are not on it on the way back."""
    heat = rng.gauss(1, PIPE_SCATTER)
    black = [piece.black_kg * heat for piece in pieces]
    load_coat = rng.gauss(1, LOAD_ZINC_SCATTER) * zinc_times
    zinc = [
        USUAL_OVER_MINIMUM * piece.zinc_least_kg * (load_coat + rng.gauss(0, PIECE_ZINC_SCATTER)) for piece in pieces
    ]
    net = lambda kg: kg + rng.gauss(0, scale_kg) - rng.gauss(0, scale_kg)  # noqa: E731  gross less tare
    back = sum(black[lost:]) + sum(zinc[lost:])
    return net(sum(black)), net(back)


def share_light(pieces, *, scale_kg, lost, seed=7):
    rng = Random(seed)
    light = 0
    for _ in range(RUNS):
        out_kg, net_kg = truck(pieces, rng, scale_kg=scale_kg, lost=lost)
        check = check_back(pieces, pieces, out_kg=out_kg, net_kg=net_kg, scale_kg=scale_kg)
        light += check.verdict == "light"
    return light / RUNS


@pytest.mark.parametrize("pieces", [THIRTY_ONE, MIXED], ids=["alike", "mixed"])
@pytest.mark.parametrize("scale_lb", [2, 10, 20, 40])
def test_nothing_lost_rings_as_often_as_it_says(pieces, scale_lb):
    assert share_light(pieces, scale_kg=scale_lb * LB, lost=0) == pytest.approx(FALSE_ALARM, abs=0.015)


@pytest.mark.parametrize("scale_lb", [2, 5, 10, 20, 40])
def test_one_lost_of_31_is_found_as_often_as_it_says(scale_lb):
    scale_kg = scale_lb * LB
    check = check_back(THIRTY_ONE, THIRTY_ONE, out_kg=2604 * LB, net_kg=2604 * LB, scale_kg=scale_kg)
    assert share_light(THIRTY_ONE, scale_kg=scale_kg, lost=1) == pytest.approx(check.chance, abs=0.025)


def test_the_scale_it_asks_for_finds_one_lost_of_31_nine_times_in_ten():
    check = check_back(THIRTY_ONE, THIRTY_ONE, out_kg=2604 * LB, net_kg=2604 * LB, scale_kg=20 * LB)
    assert check.chance < SURE < 1
    assert share_light(THIRTY_ONE, scale_kg=check.scale_needed_kg, lost=1) == pytest.approx(SURE, abs=0.025)
    assert 5 * LB < check.scale_needed_kg < 20 * LB


def test_an_84_lb_spool_needs_scatter_under_about_29_lb():
    # Shift over scatter must be 1.645 + 1.282 for 5 % false alarms and 90 % found: 86.7 / 2.926 = 29.6 lb.
    check = check_back(THIRTY_ONE, THIRTY_ONE, out_kg=2604 * LB, net_kg=2604 * LB, scale_kg=0.0)
    assert chance_seen(check.average_kg, sigma_kg=check.average_kg / 2.926) == pytest.approx(SURE, abs=0.001)


def test_a_load_whose_zinc_scatters_more_than_a_spool_weighs_says_that_no_scale_helps():
    small = [Weighed(4.0, 0.3)] * 200
    check = check_back(small, small, out_kg=800.0, net_kg=880.0, scale_kg=1.0)
    assert check.scale_needed_kg == 0.0
    assert check.chance < 0.3


def test_heavy_coats_show_as_heavy_with_their_factor():
    rng = Random(3)
    heavy = 0
    for _ in range(500):
        out_kg, net_kg = truck(THIRTY_ONE, rng, scale_kg=5 * LB, zinc_times=2.4)
        check = check_back(THIRTY_ONE, THIRTY_ONE, out_kg=out_kg, net_kg=net_kg, scale_kg=5 * LB)
        heavy += check.verdict == "heavy"
    assert heavy / 500 > 0.9
    assert check.zinc_factor == pytest.approx(2.4 * USUAL_OVER_MINIMUM, rel=0.5)


def test_a_partial_return_is_compared_with_what_the_count_says_came_back():
    back = MIXED[:20]
    rng = Random(11)
    alarms = 0
    for _ in range(RUNS):
        heat = rng.gauss(1, PIPE_SCATTER)
        out_kg = sum(p.black_kg for p in MIXED) * heat + rng.gauss(0, 9) - rng.gauss(0, 9)
        coat = rng.gauss(1, LOAD_ZINC_SCATTER)
        zinc = [USUAL_OVER_MINIMUM * p.zinc_least_kg * (coat + rng.gauss(0, PIECE_ZINC_SCATTER)) for p in back]
        net_kg = sum(p.black_kg for p in back) * heat + sum(zinc) + rng.gauss(0, 9) - rng.gauss(0, 9)
        check = check_back(MIXED, back, out_kg=out_kg, net_kg=net_kg, scale_kg=9)
        alarms += check.verdict == "light"
    # Where all pipe runs one way, the room left for pieces of other heats makes it ring less, never more.
    assert alarms / RUNS < FALSE_ALARM + 0.015


def test_without_a_weight_out_the_pipe_s_own_scatter_counts():
    known = check_back(MIXED, MIXED, out_kg=1300.0, net_kg=1350.0, scale_kg=5.0)
    unknown = check_back([], MIXED, out_kg=None, net_kg=1350.0, scale_kg=5.0)
    assert unknown.sigma_kg > known.sigma_kg


def test_the_weight_out_finds_what_was_never_loaded_only_where_it_is_more_than_the_pipe_s_scatter():
    check = check_out(THIRTY_ONE, net_kg=2604 * LB, scale_kg=5 * LB)
    assert check.verdict == "agrees"
    assert check.finds_from_kg > check.average_kg  # one spool of 31 can't be told from heavy pipe: it says so
    assert check_out(THIRTY_ONE, net_kg=(2604 - 4 * 84) * LB, scale_kg=5 * LB).pieces_short == pytest.approx(4, abs=0.1)


@pytest.mark.parametrize(("pieces", "net"), [([], 5.0), (THIRTY_ONE, 0.0), (THIRTY_ONE, -2.0)])
def test_nothing_to_weigh_is_refused_in_words(pieces, net):
    with pytest.raises(ValueError, match=r"Count first|above zero"):
        check_out(pieces, net_kg=net, scale_kg=1.0)
