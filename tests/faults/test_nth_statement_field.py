"""Deeds of the crew and of who clears their way, broken off at any statement: all of it or nothing."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from spools.actions.clear_obstacle import clear_obstacle
from spools.actions.report_obstacle import report_obstacle
from spools.actions.say_fit import say_fit
from spools.actions.take_reading import Seen
from spools.actions.use_reading import use_reading
from spools.flow.roles import Role
from tests.factories.jobs import make_tie_in
from tests.factories.loads import make_accepted, make_site_load
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_key, make_spool, take
from tests.faults.breaking import break_everywhere

pytestmark = pytest.mark.django_db(transaction=True)


def an_obstacle() -> Callable[[str], Any]:
    spool = make_spool()
    person = make_person(spool.shop, Role.FIELD)
    given = {"why": "water", "note": "up to the knee", "at": NOON}
    return lambda key: report_obstacle(tie_in_id=spool.tie_in_id, person=person, key=key, **given)


def a_cleared_obstacle() -> Callable[[str], Any]:
    spool = make_spool()
    foreman = make_person(spool.shop, Role.FOREMAN)
    obstacle, _ = report_obstacle(
        tie_in_id=spool.tie_in_id, why="blocked", note="", person=foreman, key=make_key(), at=NOON
    )
    return lambda key: clear_obstacle(obstacle_id=obstacle.id, words="gone", person=foreman, at=NOON)


def another_reading_used() -> Callable[[str], Any]:
    tie_in = make_tie_in(make_spool().tie_in.job, "215")
    take(tie_in, replace(CLOSES, leg_a="40 1/8"), keep_anyway=True)
    tie_in.refresh_from_db()
    second = take(tie_in, CLOSES, keep_anyway=True, seen=Seen(revision=1, as_second=True)).reading
    foreman = make_person(tie_in.job.shop, Role.FOREMAN)
    return lambda key: use_reading(reading_id=second.id, person=foreman, key=key, at=NOON, reason="C bears it out")


def a_spool_that_fits() -> Callable[[str], Any]:
    return _hung("fits")


def a_spool_that_does_not_fit() -> Callable[[str], Any]:
    return _hung("long")


def _hung(how: str) -> Callable[[str], Any]:
    spool = make_accepted()
    make_site_load(spool)
    person = make_person(spool.shop, Role.FIELD)
    return lambda key: say_fit(spool_id=spool.id, how=how, person=person, key=key, at=NOON)


@pytest.mark.parametrize(
    "prepare",
    [an_obstacle, a_cleared_obstacle, another_reading_used, a_spool_that_fits, a_spool_that_does_not_fit],
)
def test_broken_off_anywhere_it_leaves_nothing_behind_and_a_retry_works(
    prepare: Callable[[], Callable[[str], Any]], unguarded_after: None
) -> None:
    break_everywhere(prepare)
