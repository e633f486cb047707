"""The turnover record from rows: what the events say, nothing else."""

import pytest

from cutlists.papers.turnover import lines_of
from spools.actions.record_step import Tap, record_step
from spools.actions.undo_event import undo_event
from spools.flow.roles import Role
from spools.models import Heat, Spool
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


def built() -> Spool:
    """A spool cut, prepared and welded by Ruiz, accepted by Kellan at 1/16 over."""
    spool = make_spool()
    ruiz = make_person(spool.shop, Role.FITTER, Role.CUTTER, name="Ruiz")
    heat = Heat.objects.create(shop=spool.shop, number="7K2214")
    heats = {"A": heat.id, "B": heat.id}
    for step, who, tap in (
        ("cut", ruiz, Tap(heats=heats)),
        ("grooved", ruiz, Tap()),
        ("beveled", ruiz, Tap()),
        ("welded", ruiz, Tap()),
        ("accepted", foreman_of(spool.shop), Tap(check_mm=spool.check_mm + 1.5875)),
    ):
        record_step(spool_id=spool.id, step=step, person=who, key=make_key(), at=NOON, tap=tap)
    return spool


def test_heats_welder_measured_check_and_acceptance_are_those_of_the_events() -> None:
    spool = built()
    (line,) = lines_of(Spool.objects.filter(id=spool.id), foreman_of(spool.shop))
    assert line.heats == "A B: 7K2214"
    assert line.welders == "Ruiz"
    assert line.measured_mm == pytest.approx(spool.check_mm + 1.5875)
    assert line.accepted == "Tue 24 Nov 09:00, Kellan"
    assert (line.coated, line.delivered) == ("not yet", "not yet")


def test_the_included_angle_found_stands_beside_the_print_s() -> None:
    spool = built()
    (line,) = lines_of(Spool.objects.filter(id=spool.id), foreman_of(spool.shop))
    assert (line.included_deg, line.found_deg) == (127.5, None)
    other = make_spool("215", job=spool.tie_in.job)
    found = Tap(check_mm=other.check_mm, included_deg=127.25)
    ruiz = spool.shop.people.get(username="ruiz")
    call = {"spool_id": other.id, "at": NOON}
    record_step(step="welded", person=ruiz, key=make_key(), tap=Tap(already=True), **call)
    record_step(step="accepted", person=foreman_of(spool.shop), key=make_key(), tap=found, **call)
    (line,) = lines_of(Spool.objects.filter(id=other.id), foreman_of(spool.shop))
    assert (line.included_deg, line.found_deg) == (127.5, 127.25)


def test_whoever_welded_a_flange_on_is_named_while_it_is_on() -> None:
    spool = make_spool(end_b="flanged_slip_on", measured_to_b="flange_face")
    ruiz, mays = (make_person(spool.shop, Role.FITTER, Role.CUTTER, name=name) for name in ("Ruiz", "Mays"))
    for step, who in (("cut", ruiz), ("beveled", ruiz), ("welded", ruiz), ("flange welded", mays)):
        record_step(spool_id=spool.id, step=step, person=who, key=make_key(), at=NOON, tap=Tap())
    (line,) = lines_of(Spool.objects.filter(id=spool.id), foreman_of(spool.shop))
    assert line.welders == "Ruiz; flange Mays"
    undo_event(
        spool_id=spool.id,
        number=spool.events.get(code="flange welded").number,
        person=foreman_of(spool.shop),
        key=make_key(),
        at=NOON,
        reason="wrong flange",
    )
    (line,) = lines_of(Spool.objects.filter(id=spool.id), foreman_of(spool.shop))
    assert line.welders == "Ruiz"


def test_an_acceptance_that_was_undone_is_not_told() -> None:
    spool = built()
    number = spool.events.get(code="accepted").number
    undo_event(
        spool_id=spool.id, number=number, person=foreman_of(spool.shop), key=make_key(), at=NOON, reason="wrong spool"
    )
    (line,) = lines_of(Spool.objects.filter(id=spool.id), foreman_of(spool.shop))
    assert (line.accepted, line.measured_mm) == ("not yet", None)
