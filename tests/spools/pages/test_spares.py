"""The page of whole spools that came back, and what they could still serve."""

import pytest

from spools.actions.replace_spool import start_replacement
from spools.actions.report_misfit import report_misfit
from spools.flow.roles import Role
from tests.factories.jobs import make_tie_in
from tests.factories.loads import accept, everybody_of
from tests.factories.spools import CLOSES, NOON, make_key, take

pytestmark = pytest.mark.django_db


def test_a_spool_that_did_not_fit_is_offered_to_the_tie_ins_it_could_serve(spool, sign_in, it_is):
    it_is(NOON)
    old = accept(spool)
    call = {"person": everybody_of(spool), "at": NOON}
    report_misfit(spool_id=old.id, how="long", reason="3/8 in", key=make_key(), **call)
    shorter = type(CLOSES)(leg_a="35 1/8", leg_b="22 9/16", included="127.5", closing="52 1/8")
    take(old.tie_in, shorter, again=True)  # what replaces it waits for the saw: its own place, an inch shorter
    take(make_tie_in(old.tie_in.job, "215", end_b="beveled"))  # its grooved end serves no beveled one
    page = sign_in(Role.DRIVER).get("/spares/")
    ((spare,),) = (page.context["spares"],)
    assert (spare.spool.label, [place.spool.label for place in spare.places]) == ("214", ["214 B"])
    assert "1&quot; off at end A" in page.content.decode()
    assert b"the one before did not fit" in page.content


def test_one_that_was_never_welded_is_no_spare(spool, sign_in):
    start_replacement(spool_id=spool.id, person=everybody_of(spool), key=make_key(), at=NOON, reason="bent leg")
    assert sign_in(Role.FOREMAN).get("/spares/").context["spares"] == []
