"""A wrongly typed heat is put right once, on the bar; drops, pieces and spools follow, and every story keeps both."""

import pytest

from cutlists.actions.correct_heat import correct_heat
from cutlists.models import Cut, StockBar
from spools.actions.rebuild_status import rebuild_status
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import Event, Piece
from spools.queries.notices import notices_for
from tests.cutlists.conftest import cuts_of, refused
from tests.factories.people import make_person


@pytest.fixture
def cut_wrongly_marked(saw):
    """Both legs of one spool cut from a bar whose heat was typed with two digits turned; its end is racked."""
    spool = saw.spool()
    (bar,) = saw.bars(1, heat="7K2241")
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    return spool, StockBar.objects.get(id=bar.id)


def put_right(saw, bar, **fields):
    return correct_heat(bar_id=bar.id, **(saw.call() | {"heat": "7k2214", "reason": "stencil read again"} | fields))


def test_bar_drop_pieces_and_cuts_get_the_right_heat(saw, cut_wrongly_marked):
    spool, bar = cut_wrongly_marked
    done = put_right(saw, bar)
    assert (done.bar.heat.number, done.bars, done.spools) == ("7K2214", 2, 1)
    assert set(StockBar.objects.values_list("heat__number", flat=True)) == {"7K2214"}
    assert set(Piece.objects.filter(spool=spool, sawn=True).values_list("heat__number", flat=True)) == {"7K2214"}
    assert set(Cut.objects.values_list("heat__number", flat=True)) == {"7K2214"}
    assert rebuild_status(write=False) == []


def test_the_story_keeps_both_numbers_and_the_welder_hears_of_it(saw, cut_wrongly_marked):
    spool, bar = cut_wrongly_marked
    welder, other = make_person(saw.shop, Role.CUTTER, Role.FITTER), make_person(saw.shop, Role.FITTER)
    record_step(spool_id=spool.id, step="welded", tap=Tap(already=True), **saw.call(welder))
    put_right(saw, bar)
    event = Event.objects.get(code="heat_corrected")
    assert event.details["was"] == {"A": "7K2241", "B": "7K2241"}
    assert event.details["now"] == {"A": "7K2214", "B": "7K2214"}
    assert [notice.why for notice in notices_for(saw.foreman, at=saw.at)] == ["you run the floor"]
    assert [notice.why for notice in notices_for(welder, at=saw.at)] == ["you cut it"]  # the elbow; and welded it
    assert notices_for(other, at=saw.at) == []


def test_the_same_key_again_changes_nothing_more(saw, cut_wrongly_marked):
    _, bar = cut_wrongly_marked
    call = saw.call()
    put_right(saw, bar, **call)
    assert put_right(saw, bar, **call).spools == 0
    assert Event.objects.filter(code="heat_corrected").count() == 1


def test_what_was_loaded_without_a_heat_gets_one_too(saw):
    spool = saw.spool()
    (bar,) = saw.bars(1, heat="")
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    put_right(saw, StockBar.objects.get(id=bar.id))
    assert set(Piece.objects.filter(spool=spool, sawn=True).values_list("heat__number", flat=True)) == {"7K2214"}


@pytest.mark.parametrize(
    ("fields", "code"), [({"reason": " "}, "invalid"), ({"heat": ""}, "invalid"), ({"heat": "7K2241"}, "invalid")]
)
def test_it_asks_for_what_it_needs(saw, cut_wrongly_marked, fields, code):
    _, bar = cut_wrongly_marked
    assert refused(lambda: put_right(saw, bar, **fields)).code == code


def test_a_drop_is_put_right_on_the_bar_it_came_from(saw, cut_wrongly_marked):
    assert refused(lambda: put_right(saw, StockBar.objects.get(is_drop=True))).code == "of_another"


def test_a_fitter_may_not(saw, cut_wrongly_marked):
    _, bar = cut_wrongly_marked
    assert refused(lambda: put_right(saw, bar, person=make_person(saw.shop, Role.FITTER))).code == "not_your_role"
