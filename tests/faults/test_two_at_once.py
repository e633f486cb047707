"""Two people, one spool: every tap is kept once and in order, and whoever comes second is told what changed."""

from datetime import timedelta
from functools import partial
from random import Random

import pytest

from spools.actions.hold_spool import hold_spool
from spools.actions.load_truck import load_truck
from spools.actions.rebuild_status import rebuild_status
from spools.actions.record_step import Tap, record_step
from spools.actions.take_reading import take_reading
from spools.actions.undo_event import undo_event
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Event, LoadLine, Person, Reading, Spool
from spools.recorded import Recorded
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_key, make_spool
from tests.faults.at_once import PEOPLE, a_real_database

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]


def people_of(spool: Spool) -> list[Person]:
    return [make_person(spool.shop, *Role) for _ in range(PEOPLE)]


def numbers_are_whole(spool: Spool) -> bool:
    """Whether a spool's events are numbered without a gap, arrive in order, and lead to its columns."""
    events = list(spool.events.order_by("number"))
    arrivals = [event.received_at for event in events]
    return [event.number for event in events] == list(range(1, len(events) + 1)) and arrivals == sorted(arrivals)


def a_tap(spool: Spool, person: Person, step: str, target: str, key: str, minute: int):
    at = NOON + timedelta(minutes=minute)
    return partial(record_step, spool_id=spool.id, step=step, person=person, key=key, at=at, tap=Tap(targets=(target,)))


def test_eight_people_on_the_same_spools_lose_double_and_disorder_nothing(tmp_path):
    job = make_spool("1").tie_in.job
    spools = [Spool.objects.get(tie_in__mark="1"), make_spool("2", job=job)]
    people = people_of(spools[0])
    work = [
        (spool, step, target)
        for spool in spools
        for step, targets in (("cut", spool.the_route.sawn()), *((s, spool.the_route.ends_needing(s)) for s in ENDS))
        for target in targets
    ]
    keys = {(spool.id, step, target): make_key() for spool, step, target in work}
    days = []
    for number, person in enumerate(people):
        day = []
        for minute, (spool, step, target) in enumerate(work):
            shared = keys[spool.id, step, target]
            # Half send one same key, as a phone that never saw its answer does; half tap for themselves, twice.
            for key in (shared,) if number % 2 else (own := make_key(), own):
                day.append(((spool.id, step, target), key, a_tap(spool, person, step, target, key, minute)))
        Random(number).shuffle(day)
        day.sort(key=lambda tap: tap[0][1] != "cut")  # cutting first: what stands on it is then in order
        days.append(day)
    with a_real_database(tmp_path) as floor:
        answers = floor.all_at_once([[tap for _, _, tap in day] for day in days])
        given = [
            (what, key, answer)
            for day, heard in zip(days, answers, strict=True)
            for (what, key, _), answer in zip(day, heard, strict=True)
        ]
        assert {answer.code for *_, answer in given if isinstance(answer, ShopError)} <= {"out_of_order"}
        done = [(what, key, answer) for what, key, answer in given if isinstance(answer, Recorded)]
        assert {what for what, *_ in done} == set(keys)
        for what in keys:
            told = [answer for other, _, answer in done if other == what]
            firsts = [answer for answer in told if not answer.repeated]
            assert len(firsts) == 1
            assert {answer.event.id for answer in told} == {firsts[0].event.id}
            kept = Event.objects.get(id=firsts[0].event.id)
            assert (kept.number, kept.targets) == (firsts[0].event.number, [what[2]])
        assert Event.objects.exclude(code="measured").count() == len(work)
        assert all(numbers_are_whole(spool) for spool in spools)
        assert rebuild_status(write=False) == []


ENDS = ("grooved", "beveled")


def test_one_key_sent_by_eight_at_once_is_one_event_and_eight_same_answers(tmp_path):
    spool, key = make_spool(), make_key()
    person = make_person(spool.shop, Role.FOREMAN)
    hold = partial(hold_spool, spool_id=spool.id, person=person, key=key, at=NOON, reason="no elbow")
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once([[hold]] * PEOPLE)]
        assert {(a.event.id, a.event.number) for a in answers} == {(Event.objects.get(key=key).id, 2)}
        assert sorted(a.repeated for a in answers) == [False] + [True] * (PEOPLE - 1)
        assert Spool.objects.get(id=spool.id).hold_count == 1


def test_one_key_sent_for_two_spools_at_once_is_taken_once_and_refused_once(tmp_path):
    first = make_spool("1")
    second, key = make_spool("2", job=first.tie_in.job), make_key()
    person = make_person(first.shop, Role.FOREMAN)
    holds = [
        [partial(hold_spool, spool_id=spool.id, person=person, key=key, at=NOON, reason="no elbow")]
        for spool in (first, second) * (PEOPLE // 2)
    ]
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once(holds)]
        refused = [answer for answer in answers if isinstance(answer, ShopError)]
        assert {answer.code for answer in refused} == {"key_reused"}
        assert len(refused) == PEOPLE // 2
        assert Event.objects.filter(key=key).count() == 1


def test_eight_holds_at_once_are_eight_numbered_holds(tmp_path):
    spool = make_spool()
    days = [
        [partial(hold_spool, spool_id=spool.id, person=person, key=make_key(), at=NOON, reason=f"{person}")]
        for person in people_of(spool)
    ]
    with a_real_database(tmp_path) as floor:
        floor.all_at_once(days)
        held = Spool.objects.get(id=spool.id)
        assert held.hold_count == PEOPLE
        assert held.last_number == PEOPLE + 1
        assert numbers_are_whole(held)
        assert rebuild_status(write=False) == []


def test_two_who_undo_the_same_tap_hear_that_it_is_undone_already(tmp_path):
    spool = make_spool()
    people = people_of(spool)
    done = record_step(spool_id=spool.id, step="cut", person=people[0], key=make_key(), at=NOON).event
    undos = [
        [partial(undo_event, spool_id=spool.id, number=done.number, person=p, key=make_key(), at=NOON, reason="slip")]
        for p in people
    ]
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once(undos)]
        assert [a.code for a in answers if isinstance(a, ShopError)] == ["already_undone"] * (PEOPLE - 1)
        assert Event.objects.filter(undoes=done).count() == 1


def test_two_who_measure_the_same_tie_in_leave_one_reading_and_one_question(tmp_path):
    spool = make_spool("1")
    tie_in = make_tie_in(spool.tie_in.job, "2")
    points = spool.reading.set_points_id
    days = [
        [
            partial(
                take_reading, tie_in_id=tie_in.id, set_points_id=points, typed=CLOSES, person=p, key=make_key(), at=NOON
            )
        ]
        for p in people_of(spool)
    ]
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once(days)]
        assert [a.code for a in answers if isinstance(a, ShopError)] == ["measured_before"] * (PEOPLE - 1)
        assert Reading.objects.filter(tie_in=tie_in).count() == 1
        assert Spool.objects.filter(tie_in=tie_in, live=True).count() == 1


def test_one_spool_goes_on_one_truck(tmp_path):
    spool = make_spool()
    people = people_of(spool)
    for step, person, tap in (
        ("welded", people[0], Tap(already=True)),
        ("accepted", people[1], Tap(check_mm=spool.check_mm)),
    ):
        record_step(spool_id=spool.id, step=step, person=person, key=make_key(), at=NOON, tap=tap)
    trucks = [
        [partial(load_truck, kind="coating", going_to="zinc", spool_ids=[spool.id], person=p, key=make_key(), at=NOON)]
        for p in people
    ]
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once(trucks)]
        refused = [a for a in answers if isinstance(a, ShopError)]
        assert {a.code for a in refused} == {"not_ready"}
        assert len(refused) == PEOPLE - 1
        assert LoadLine.objects.filter(spool=spool).count() == 1
        assert Event.objects.filter(code="at_coating").count() == 1


def test_one_tap_sent_by_eight_at_once_gives_eight_times_the_first_answer_and_nobody_is_told_he_was_second(tmp_path):
    spool, key = make_spool(), make_key()
    person = make_person(spool.shop, Role.CUTTER)
    cut = partial(record_step, spool_id=spool.id, step="cut", person=person, key=key, at=NOON)
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once([[cut]] * PEOPLE)]
        assert {answer.event.key for answer in answers} == {key}
        assert {answer.words for answer in answers} == {""}
        assert sorted(answer.repeated for answer in answers) == [False] + [True] * (PEOPLE - 1)


def test_one_undo_sent_by_eight_at_once_is_answered_eight_times_alike(tmp_path):
    spool, key = make_spool(), make_key()
    person = make_person(spool.shop, Role.CUTTER)
    done = record_step(spool_id=spool.id, step="cut", person=person, key=make_key(), at=NOON).event
    undo = partial(undo_event, spool_id=spool.id, number=done.number, person=person, key=key, at=NOON)
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once([[undo]] * PEOPLE)]
        assert {answer.event.key for answer in answers} == {key}
