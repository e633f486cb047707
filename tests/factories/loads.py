"""Spools that are accepted, and loads of them."""

from spools.actions.count_back import count_back
from spools.actions.load_truck import load_truck
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import Job, Load, Person, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool


def everybody_of(spool: Spool, name: str = "Allhands") -> Person:
    """Somebody of the spool's shop with every role."""
    found = spool.shop.people.filter(username=name.lower()).first()
    return found or make_person(spool.shop, *Role, name=name)


def make_accepted(mark: str = "214", job: Job | None = None, **fields) -> Spool:
    """A spool that is welded and accepted."""
    spool = make_spool(mark, **({"job": job} if job else {}), **fields)
    return accept(spool)


def accept(spool: Spool, at=NOON) -> Spool:
    """Weld and accept a spool, by two people."""
    call = {"spool_id": spool.id, "at": at}
    record_step(step="welded", person=everybody_of(spool, "Welder"), key=make_key(), tap=Tap(already=True), **call)
    record_step(step="accepted", person=everybody_of(spool), key=make_key(), tap=Tap(check_mm=spool.check_mm), **call)
    spool.refresh_from_db()
    return spool


def make_accepted_ones(*marks: str) -> list[Spool]:
    """Accepted spools of one job."""
    first = make_accepted(marks[0])
    return [first, *(make_accepted(mark, first.tie_in.job) for mark in marks[1:])]


def make_load(*spools: Spool, kind: str = "coating", person: Person | None = None, **more) -> Load:
    """A load of spools that leaves now."""
    return load_truck(
        kind=kind,
        going_to="Dunmere Galvanizing" if kind == "coating" else "East gallery",
        spool_ids=[spool.id for spool in spools],
        person=person or everybody_of(spools[0]),
        **{"key": make_key(), "at": NOON} | more,
    )


def make_site_load(*spools: Spool, at=NOON) -> Load:
    """Accepted spools, coated and back, on a truck to site."""
    zinc = make_load(*spools, at=at)
    who = everybody_of(spools[0])
    count_back(load_id=zinc.id, spool_ids=[spool.id for spool in spools], person=who, key=make_key(), at=at)
    return make_load(*spools, kind="site", at=at)
