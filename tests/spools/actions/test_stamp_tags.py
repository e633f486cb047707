"""The stock of stamped tags: good numbers only, none twice, none out of the stock."""

from datetime import timedelta

import pytest

from spools.actions.bind_tag import bind_tag
from spools.actions.stamp_tags import retire_tag, stamp_tags
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.tags import is_good_tag, never_issued, tag_number
from spools.models import Person, Spool, StampedTag, TagBatch
from tests.factories.jobs import make_job
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


def foreman() -> Person:
    """A foreman of a new shop."""
    return make_person(make_shop(), Role.FOREMAN)


def stamp(person: Person, count: int, key: str = "") -> list[str]:
    """Stamp a batch; return its numbers."""
    batch = stamp_tags(count=count, person=person, key=key or make_key(), at=NOON)
    return list(batch.tags.values_list("number", flat=True))


def bind(spool: Spool, tag: str, person: Person, days: int = 0) -> None:
    """Bind a tag so many days after noon."""
    bind_tag(spool_id=spool.id, tag=tag, person=person, key=make_key(), at=NOON + timedelta(days=days))


def refusal(spool: Spool, tag: str, person: Person, days: int = 0) -> str:
    """The code that a binding is refused with."""
    with pytest.raises(ShopError) as refused:
        bind(spool, tag, person, days)
    return refused.value.code


def test_a_batch_holds_good_numbers_in_order_and_the_next_goes_on_behind_it() -> None:
    person = foreman()
    first, second = stamp(person, 60), stamp(person, 60)
    assert first == sorted(first)
    assert all(is_good_tag(tag) for tag in first + second)
    assert max(first) < min(second)
    assert not never_issued() & {*first, *second}


def test_the_same_call_twice_stamps_one_batch() -> None:
    person = foreman()
    assert stamp(person, 5, "one-key-12") == stamp(person, 5, "one-key-12")
    assert TagBatch.objects.count() == 1


def test_numbers_that_hang_on_spools_already_are_passed_over() -> None:
    person = foreman()
    spool = make_spool(job=make_job(person.the_shop))
    bind(spool, tag_number(1), person)
    assert tag_number(1) not in stamp(person, 3)


@pytest.mark.parametrize("count", [0, -1, 501])
def test_a_batch_of_none_or_too_many_is_refused(count: int) -> None:
    with pytest.raises(ShopError, match="No tags to stamp"):
        stamp(foreman(), count)


def test_once_there_is_a_stock_only_its_tags_are_bound() -> None:
    person = foreman()
    job = make_job(person.the_shop)
    (tag,) = stamp(person, 1)
    assert refusal(make_spool("1", job=job), tag_number(5000), person) == "tag_not_stamped"
    spool = make_spool("2", job=job)
    bind(spool, tag, person)
    assert Spool.objects.get(id=spool.id).tag == tag


def test_a_retired_tag_is_never_bound_and_a_bound_one_not_retired() -> None:
    person = foreman()
    spool = make_spool("1", job=make_job(person.the_shop))
    lost, good = stamp(person, 2)
    retire_tag(number=lost, reason="misstamped", person=person, at=NOON)
    assert refusal(spool, lost, person) == "tag_retired"
    bind(spool, good, person)
    with pytest.raises(ShopError, match=f"Tag {good} hangs on 1"):
        retire_tag(number=good, reason="bent", person=person, at=NOON)
    assert StampedTag.objects.get(number=good).retired_at is None


def test_a_tag_is_not_bound_again_within_two_years_and_may_be_after() -> None:
    person = foreman()
    job = make_job(person.the_shop)
    (tag,) = stamp(person, 1)
    gone, new = make_spool("1", job=job), make_spool("2", job=job)
    bind(gone, tag, person)
    assert refusal(new, tag, person) == "tag_taken"
    Spool.objects.filter(id=gone.id).update(delivered_at=NOON, last_event_at=NOON)
    assert refusal(new, tag, person, days=729) == "tag_used"
    bind(new, tag, person, days=731)
    assert Spool.objects.get(id=new.id).tag == tag


def test_a_driver_stamps_no_tags() -> None:
    with pytest.raises(ShopError) as refused:
        stamp(make_person(make_shop(), Role.DRIVER), 5)
    assert refused.value.code == "not_your_role"
