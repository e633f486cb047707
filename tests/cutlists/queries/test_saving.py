"""Can it be saved? What a kept length still serves, against looking at every open piece one by one."""

from random import Random

import pytest

from cutlists.saving import SHOWN, serves
from cutlists.units import to_units
from spools.actions.hold_spool import hold_spool
from spools.models import Piece
from tests.factories.spools import make_key


@pytest.fixture
def open_pieces(saw):
    dice = Random(7)
    for _ in range(9):
        saw.spool()
    for piece in saw.pieces():
        Piece.objects.filter(id=piece.id).update(
            stock_mm=dice.randint(100, 900),
            schedule=dice.choice(["40", "40", "80"]),
            material=dice.choice(["A53 B", "A53 B", "A106 B"]),
            is_cut=dice.random() < 0.2,
        )
    hold_spool(spool_id=saw.spools[0].id, person=saw.foreman, key=make_key(), at=saw.at, reason="no elbow")
    return saw.pieces()


@pytest.mark.parametrize("length_mm", [90.0, 100.0, 333.3, 500.0, 900.0, 1500.0])
def test_it_is_what_looking_at_every_piece_gives(saw, open_pieces, length_mm):
    (bar,) = saw.bars(1)
    length_u = to_units(length_mm)
    fit = [
        length_u - to_units(piece.stock_mm)
        for piece in open_pieces
        if not piece.is_cut
        and piece.spool_id != saw.spools[0].id
        and (piece.schedule, piece.material) == ("40", "A53 B")
        and to_units(piece.stock_mm) <= length_u
    ]
    assert [one.trim_u for one in serves(bar, length_u)] == sorted(fit)[:SHOWN]


def test_exactly_as_long_it_serves_as_it_is(saw):
    saw.spool()
    (bar,) = saw.bars(1)
    piece = saw.pieces()[0]
    assert serves(bar, to_units(piece.stock_mm))[0].trim_u == 0
    assert piece not in [one.piece for one in serves(bar, to_units(piece.stock_mm) - 1)]


def test_among_alike_the_rush_comes_first(saw):
    saw.spool()
    rush = saw.spool()
    rush.rush = True
    rush.save()
    (bar,) = saw.bars(1)
    assert serves(bar, 900 * 320)[0].piece.spool == rush


def test_the_piece_that_was_cut_wrong_is_not_offered_itself(saw):
    saw.spool()
    (bar,) = saw.bars(1)
    piece = saw.pieces()[0]
    assert piece not in [one.piece for one in serves(bar, 900 * 320, not_for=piece)]
