"""What happens on trucks reaches those whom it concerns, in words; what was done on somebody's link is news to them."""

import pytest

from spools.actions.count_back import count_back, report_damaged, report_missing
from spools.actions.load_lines import Told
from spools.actions.reject_coating import reject_coating
from spools.actions.replace_spool import start_replacement
from spools.actions.report_misfit import report_misfit
from spools.actions.turn_up import turn_up
from spools.flow.roles import Role
from spools.queries.notices import notices_for
from spools.queries.spool import story_of
from tests.factories.loads import make_accepted_ones, make_load
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key

pytestmark = pytest.mark.django_db


@pytest.fixture
def people():
    """A load of one spool, and everybody of the shop by role."""
    (spool,) = make_accepted_ones("214")
    found = {role: make_person(spool.shop, role, name=role.value.title()) for role in Role}
    return found | {"spool": spool, "load": make_load(spool, person=found[Role.DRIVER])}


def told(people, role: Role) -> list[str]:
    return [f"{one.words} ({one.why})" for one in notices_for(people[role], at=NOON)]


def call(people, role: Role = Role.DRIVER) -> dict:
    return {"person": people[role], "key": make_key(), "at": NOON}


LINK = Told(by="M. Tran")


def test_a_missing_spool_is_news_to_foreman_manager_and_to_the_driver_whose_link_it_came_by(people):
    load, spool = people["load"], people["spool"]
    report_missing(load_id=load.id, spool_id=spool.id, reason="nobody has it", told=LINK, **call(people))
    said = "Not back from coating, load 1 by M. Tran, on Driver's link: nobody has it"
    assert told(people, Role.FOREMAN) == [f"{said} (you run the floor)"]
    assert told(people, Role.MANAGER) == [f"{said} (you answer for the date)"]
    assert told(people, Role.DRIVER) == [f"{said} (you drive)"]
    assert told(people, Role.CUTTER) == []


def test_what_the_driver_did_alone_is_no_news_to_the_driver(people):
    report_missing(load_id=people["load"].id, spool_id=people["spool"].id, reason="not on the truck", **call(people))
    assert told(people, Role.DRIVER) == []
    assert len(told(people, Role.FOREMAN)) == 1


def test_damage_and_what_becomes_of_it_are_told(people):
    load, spool = people["load"], people["spool"]
    report_damaged(load_id=load.id, spool_id=spool.id, how="bare", note="at weld 1", told=LINK, **call(people))
    reject_coating(spool_id=spool.id, how="redip", defect="bare", **call(people, Role.FITTER))
    words = told(people, Role.FOREMAN)
    assert words[0] == "Coating rejected by Fitter: bare spots; strip it and dip it again (you run the floor)"
    assert "Damaged on the way, load 1 by M. Tran, on Driver's link: bare spots; at weld 1 (you run the floor)" in words
    assert told(people, Role.DRIVER)[0].endswith("strip it and dip it again (you drive)")


def test_the_replacement_and_the_old_one_found_are_told(people):
    load, spool = people["load"], people["spool"]
    report_missing(load_id=load.id, spool_id=spool.id, reason="nobody has it", **call(people))
    start_replacement(spool_id=spool.id, **call(people, Role.FOREMAN))
    turn_up(load_id=load.id, spool_id=spool.id, told=LINK, **call(people))
    assert told(people, Role.FOREMAN)[0] == "Turned up again, load 1 by M. Tran, on Driver's link (you run the floor)"
    assert [line.words.split(" by ")[0] for line in story_of(spool)][:3] == [
        "Turned up again, load 1",
        "Superseded",
        "Not back from coating, load 1",
    ]


def test_what_does_not_fit_reaches_whoever_measured_and_whoever_welded(people):
    spool = people["spool"]
    count_back(load_id=people["load"].id, spool_ids=[spool.id], **call(people))
    report_misfit(spool_id=spool.id, how="long", reason="3/8 in at the main", **call(people))
    hand = spool.reading.taken_by
    welder = spool.events.get(code="welded").person
    whys = [one.why for one in notices_for(hand, at=NOON) if one.event.code == "misfit"]
    assert whys == ["you measured it"]
    assert any(one.event.code == "misfit" for one in notices_for(welder, at=NOON))
