"""The spool's page and its weld: the one who made it takes it back, another rejects it."""

import pytest

from spools.flow.roles import Role

pytestmark = pytest.mark.django_db


def test_the_page_offers_the_welder_to_do_it_over_and_asking_and_the_other_rejecting(spool, sign_in):
    client = sign_in(Role.FITTER, Role.CUTTER)
    client.post(f"/spools/{spool.id}/step/", {"step": "welded", "already": "yes", "key": "key-of-weld-1"})
    page = client.get(f"/spools/{spool.id}/").content.decode()
    assert 'value="weld_again"' in page
    assert 'value="rejected">look at it' in page
    assert 'name="deed" value="rejected"' not in page
    assert "You welded it: somebody else looks and measures." in page
    other = sign_in(Role.FITTER, name="Banner").get(f"/spools/{spool.id}/").content.decode()
    assert ('value="weld_again"' in other, 'name="deed" value="rejected"' in other) == (False, True)
