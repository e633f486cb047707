"""A wrong cut told on the spool's page: the saw's account follows where the piece came from a bar of a plan."""

import pytest

from cutlists.models import Cut
from spools.actions.record_step import record_step
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of
from tests.factories.spools import make_key


def tell(client, piece, **fields):
    form = {"key": make_key() + "-tapped", "deed": "wrong_cut", "piece": piece.id, "reason": "out of square"}
    return client.post("/pieces/wrong/", form | fields)


@pytest.fixture
def piece(saw):
    spool = saw.spool()
    saw.bars(2)
    (first, *_) = cuts_of(saw.plan())
    saw.cut(first)
    return spool.pieces.get(id=first.piece_id)


def test_its_steel_is_booked_and_it_is_planned_again(saw, piece, at_saw):
    assert tell(at_saw, piece, real='20"').status_code == 302
    piece.refresh_from_db()
    assert not piece.is_cut
    assert Cut.objects.filter(piece=piece, state="planned").count() == 1
    assert complaints(saw.shop) == []
    page = at_saw.get(f"/spools/{piece.spool_id}/")
    assert "paint that on" in page.content.decode()


def test_a_length_that_can_t_be_read_keeps_what_was_typed(saw, piece, at_saw):
    answer = tell(at_saw, piece, real="20 1/")
    text = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="20 1/"' in text
    assert 'value="out of square"' in text
    piece.refresh_from_db()
    assert piece.is_cut


def test_a_piece_cut_without_a_plan_is_only_to_be_cut_again(saw, at_saw):
    spool = saw.spool()
    record_step(spool_id=spool.id, step="cut", **saw.call())
    tell(at_saw, spool.pieces.get(mark="A"))
    spool.refresh_from_db()
    assert spool.next_step == "cut"
    assert not Cut.objects.exists()


def test_a_piece_of_another_shop_is_not_found(saw, piece, sign_in):
    from spools.flow.roles import Role
    from tests.factories.people import make_person, make_shop

    stranger = sign_in(make_person(make_shop("Other"), Role.CUTTER))
    assert tell(stranger, piece).status_code == 404
