"""A steel tag hangs on one spool, whoever binds it when: at the same moment, with an acceptance, or by an undo."""

from functools import partial

import pytest

from spools.actions.bind_tag import bind_tag
from spools.actions.record_step import Tap, record_step
from spools.actions.record_with_tag import record_with_tag
from spools.actions.stamp_tags import stamp_tags
from spools.actions.undo_event import undo_event
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.tags import is_good_tag, tag_number
from spools.models import Event, Person, Spool
from spools.recorded import Recorded
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool
from tests.faults.at_once import PEOPLE, a_real_database

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]
TIMES = 6
TAG, OTHER, *MORE = [tag for tag in map(tag_number, range(300, 340)) if is_good_tag(tag)]


def a_shop(spools: int) -> tuple[list[Spool], list[Person]]:
    first = make_spool("1")
    others = [make_spool(str(number), job=first.tie_in.job) for number in range(2, spools + 1)]
    return [first, *others], [make_person(first.shop, *Role) for _ in range(spools)]


def one_won(answers: list, spools: list[Spool], tag: str) -> None:
    """Exactly one was bound; every other was told on which spool it hangs, and nothing of theirs was kept."""
    won = [answer for answer in answers if isinstance(answer, Recorded)]
    lost = [answer for answer in answers if isinstance(answer, ShopError)]
    assert len(won) == 1
    assert len(lost) == len(spools) - 1
    (holder,) = Spool.objects.filter(tag=tag)
    assert {answer.code for answer in lost} == {"tag_taken"}
    assert {answer.words for answer in lost} == {f"Tag {tag} hangs on {holder.label}."}
    assert {answer.status for answer in lost} == {409}
    assert Event.objects.filter(code="tagged", reason=tag).count() == 1


@pytest.mark.parametrize("stamped", [False, True], ids=["no stock of tags", "from the nail"])
def test_eight_people_bind_one_tag_to_eight_spools_and_one_wins(tmp_path, stamped):
    spools, people = a_shop(PEOPLE)
    tags = MORE[:TIMES]
    if stamped:
        batch = stamp_tags(count=TIMES, person=people[0], key=make_key(), at=NOON)
        tags = [tag.number for tag in batch.tags.all()]
    with a_real_database(tmp_path) as floor:
        for tag in tags:
            days = [
                [partial(bind_tag, spool_id=spool.id, tag=tag, person=person, key=make_key(), at=NOON)]
                for spool, person in zip(spools, people, strict=True)
            ]
            one_won([answer for (answer,) in floor.all_at_once(days)], spools, tag)


def test_two_accept_with_the_same_tag_and_the_second_is_accepted_with_another(tmp_path):
    spools, people = a_shop(2)
    welder, inspectors = make_person(spools[0].shop, *Role), people
    for spool in spools:
        for step in ("cut", "grooved", "beveled", "welded"):
            record_step(spool_id=spool.id, step=step, person=welder, key=make_key(), at=NOON)

    def accept(spool, person, tag):
        tap = Tap(check_mm=spool.check_mm)
        call = {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON}
        return partial(record_with_tag, step="accepted", tap=tap, tag=tag, **call)

    with a_real_database(tmp_path) as floor:
        days = [[accept(spool, person, TAG)] for spool, person in zip(spools, inspectors, strict=True)]
        answers = [answer for (answer,) in floor.all_at_once(days)]
        one_won(answers, spools, TAG)
        (late,) = Spool.objects.filter(tag="")
        assert late.accepted_at is None  # refused whole: the acceptance waits for a tag that is free
        accept(late, inspectors[0], OTHER)()
        late.refresh_from_db()
        assert (late.tag, late.accepted_at is not None) == (OTHER, True)


def test_an_undo_that_would_hang_a_tag_on_two_spools_is_refused_in_words():
    (one, other), (person, _) = a_shop(2)
    bind_tag(spool_id=one.id, tag=TAG, person=person, key=make_key(), at=NOON)
    moved = bind_tag(spool_id=one.id, tag=OTHER, person=person, key=make_key(), at=NOON).event
    bind_tag(spool_id=other.id, tag=TAG, person=person, key=make_key(), at=NOON)
    with pytest.raises(ShopError) as refused:
        undo_event(spool_id=one.id, number=moved.number, person=person, key=make_key(), at=NOON)
    assert refused.value.words == f"Tag {TAG} hangs on {other.label}."
    one.refresh_from_db()
    assert one.tag == OTHER


def test_the_database_itself_refuses_a_second_one():
    from django.db import IntegrityError, transaction

    (one, other), _ = a_shop(2)
    Spool.objects.filter(id=one.id).update(tag=TAG)
    with pytest.raises(IntegrityError), transaction.atomic():
        Spool.objects.filter(id=other.id).update(tag=TAG)
    Spool.objects.filter(id=one.id).update(live=False)
    Spool.objects.filter(id=other.id).update(tag=TAG)
