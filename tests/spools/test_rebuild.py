"""Status columns are what the events lead to: after any history a rebuild finds nothing; it mends tampering."""

import os
from collections import Counter
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test

from spools.actions.hold_spool import hold_spool
from spools.actions.rebuild_status import rebuild_status, said
from spools.actions.record_step import record_step
from spools.ledger import PROJECTED
from spools.models import Bench, Event, Spool
from tests.factories.spools import NOON
from tests.spools.a_history import MOVES_WITH_WEIGHTS, History, begin

pytestmark = pytest.mark.django_db

HISTORIES = int(os.environ.get("FABSHOP_HISTORIES", "25"))
MOVES = 30
OFTEN = [move for move, weight in MOVES_WITH_WEIGHTS.items() for _ in range(max(1, round(weight)))]


class AnyHistory(RuleBasedStateMachine):
    """Moves in any order, chosen to be made smaller when one breaks; everything is rolled back at the end."""

    def __init__(self) -> None:
        super().__init__()
        self.work = transaction.atomic()
        self.work.__enter__()
        self.life: History | None = None

    @initialize(seed=st.integers(0, 7))
    def measured(self, seed):
        self.life = begin(seed)

    @rule(move=st.sampled_from(OFTEN), random=st.randoms(use_true_random=False))
    def move(self, move, random):
        self.life.random = random
        self.life.make(move)

    def teardown(self):
        try:
            if self.life is not None:
                assert rebuild_status(write=False) == []
                columns_agree()
        finally:
            transaction.set_rollback(True)
            self.work.__exit__(None, None, None)


def columns_agree() -> None:
    """Numbers run without a gap in the order of arrival; what is delivered has nothing left to do, and the reverse."""
    for spool in Spool.objects.all():
        events = list(spool.events.order_by("number"))
        assert [event.number for event in events] == list(range(1, spool.last_number + 1))
        assert [event.received_at for event in events] == sorted(event.received_at for event in events)
        assert all(event.done_at <= event.received_at for event in events)
        assert not spool.live or (spool.delivered_at is None) == bool(spool.next_step)


def test_after_any_history_a_rebuild_from_the_events_finds_no_difference():
    run_state_machine_as_test(
        AnyHistory,
        settings=settings(
            max_examples=HISTORIES,
            stateful_step_count=MOVES,
            deadline=None,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
        ),
    )


def test_the_histories_really_go_through_the_shop():
    codes: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    fell_with_another = came_late = 0
    for seed in range(12):
        with transaction.atomic():
            life = begin(seed)
            life.go_on(2 * MOVES)
            codes.update(Event.objects.values_list("code", flat=True))
            fell_with_another += sum(bool(event.withdraws) for event in Event.objects.filter(code="undone"))
            came_late += sum(event.done_at < event.received_at for event in Event.objects.all())
            refused.update(life.refused)
            transaction.set_rollback(True)
    steps = {"measured", "cut", "beveled", "grooved", "welded", "accepted", "at_coating", "back", "delivered"}
    deeds = {"held", "let_go", "rushed", "put_on_bench", "wrong_cut", "rejected", "undone", "superseded"}
    deeds |= {"heat_corrected", "weld_by", "weld_again", "asked", "damaged", "missing", "coating_bad"}
    assert set(codes) >= steps | deeds
    assert fell_with_another
    assert came_late
    assert set(refused) >= {"out_of_order", "on_hold", "depends", "gone_out", "same_person"}


WRONG = {
    "live": False,
    "standing": {},
    "status": "welded",
    "next_step": "back",
    "status_since": NOON - timedelta(days=3),
    "hold_count": 4,
    "rush": True,
    "tag": "02145",
    "accepted_at": NOON,
    "coating_out_at": NOON,
    "coating_back_at": NOON,
    "delivered_at": NOON,
    "last_number": 1,
    "last_event_at": NOON + timedelta(days=9),
}


def a_spool_cut_and_held() -> Spool:
    life = begin(1)
    record_step(step="cut", **life.call)
    hold_spool(reason="no elbow", **life.call)
    return Spool.objects.get(id=life.spool.id)


@pytest.mark.parametrize("column", PROJECTED)
def test_a_tampered_column_is_found_and_put_right(column):
    spool = a_spool_cut_and_held()
    wrong = WRONG.get(column, Bench.objects.first().id)
    before = getattr(spool, column)
    assert before != wrong
    Spool.objects.filter(id=spool.id).update(**{column: wrong})
    found = rebuild_status(write=False)
    assert [(d.spool_id, d.column, d.stored, d.from_events) for d in found] == [
        (spool.id, column, said(wrong), said(before))
    ]
    rebuild_status(write=True)
    assert getattr(Spool.objects.get(id=spool.id), column) == before
    assert rebuild_status(write=False) == []


def test_a_tampered_piece_is_found_and_put_right():
    spool = a_spool_cut_and_held()
    spool.pieces.filter(mark="A").update(is_cut=False)
    assert [d.column for d in rebuild_status(write=True)] == ["piece A"]
    assert spool.pieces.get(mark="A").is_cut
    assert rebuild_status(write=False) == []


def test_only_the_shop_that_is_asked_for_is_looked_at():
    spool = a_spool_cut_and_held()
    Spool.objects.filter(id=spool.id).update(rush=True)
    assert rebuild_status(write=False, shop_id=spool.shop_id + 1) == []
    assert len(rebuild_status(write=False, shop_id=spool.shop_id)) == 1


def test_the_command_says_what_differs_and_fails_until_it_is_put_right():
    spool = a_spool_cut_and_held()
    Spool.objects.filter(id=spool.id).update(status="delivered")
    said = StringIO()
    with pytest.raises(CommandError, match="1 columns of 1 spools differ"):
        call_command("rebuild_status", stdout=said)
    assert f"214 (spool {spool.id}): status is 'delivered', its events say 'cut'" in said.getvalue()
    call_command("rebuild_status", "--write", stdout=said)
    assert "put right" in said.getvalue()
    said = StringIO()
    call_command("rebuild_status", stdout=said)
    assert said.getvalue().startswith("1 spools stand where their events put them")
