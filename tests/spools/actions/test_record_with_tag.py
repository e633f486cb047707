"""Accepting with a tag: both are kept, or neither."""

import pytest

from spools.actions.record_step import Tap, record_step
from spools.actions.record_with_tag import record_with_tag
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.tags import tag_number
from spools.models import Person, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


def welded() -> tuple[Spool, Person]:
    """A welded spool, and a foreman who didn't weld it."""
    spool = make_spool()
    fitter = make_person(spool.shop, Role.FITTER, Role.CUTTER)
    for step in ("cut", "grooved", "beveled", "welded"):
        record_step(spool_id=spool.id, step=step, person=fitter, key=make_key(), at=NOON)
    return spool, make_person(spool.shop, Role.FOREMAN)


def accept(spool: Spool, person: Person, tag: str, key: str) -> Spool:
    """Accept with a tag; return the spool as it stands then."""
    tap = Tap(check_mm=spool.check_mm)
    record_with_tag(spool_id=spool.id, step="accepted", person=person, key=key, at=NOON, tap=tap, tag=tag)
    return Spool.objects.get(id=spool.id)


def test_the_tag_is_bound_with_the_acceptance_and_a_repeat_adds_nothing() -> None:
    spool, person = welded()
    first = accept(spool, person, tag_number(214), "one-key-12")
    again = accept(spool, person, tag_number(214), "one-key-12")
    assert (first.tag, first.accepted_at) == (tag_number(214), NOON)
    assert again.last_number == first.last_number


def test_a_wrong_check_digit_keeps_the_acceptance_back_too() -> None:
    spool, person = welded()
    with pytest.raises(ShopError) as refused:
        accept(spool, person, "02146", make_key())
    assert "tag" in refused.value.fields
    now = Spool.objects.get(id=spool.id)
    assert (now.accepted_at, now.tag) == (None, "")


def test_without_a_tag_it_is_accepted_all_the_same() -> None:
    spool, person = welded()
    assert accept(spool, person, "", make_key()).accepted_at == NOON
