"""Deeds of steel tags, broken off at any statement: all of it or nothing."""

from collections.abc import Callable
from typing import Any

import pytest

from spools.actions.record_step import Tap, record_step
from spools.actions.record_with_tag import record_with_tag
from spools.actions.stamp_tags import stamp_tags
from spools.flow.roles import Role
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool
from tests.faults.breaking import break_everywhere

pytestmark = pytest.mark.django_db(transaction=True)


def a_batch() -> Callable[[str], Any]:
    person = make_person(make_spool().shop, Role.FOREMAN)
    return lambda key: stamp_tags(count=3, person=person, key=key, at=NOON)


def an_acceptance_with_its_tag() -> Callable[[str], Any]:
    spool = make_spool()
    fitter, foreman = make_person(spool.shop, Role.FITTER, Role.CUTTER), make_person(spool.shop, Role.FOREMAN)
    for step in ("cut", "grooved", "beveled", "welded"):
        record_step(spool_id=spool.id, step=step, person=fitter, key=make_key(), at=NOON)
    batch = stamp_tags(count=1, person=foreman, key=make_key(), at=NOON)
    tag, tap = batch.tags.get().number, Tap(check_mm=spool.check_mm)
    return lambda key: record_with_tag(
        spool_id=spool.id, step="accepted", person=foreman, key=key, at=NOON, tap=tap, tag=tag
    )


@pytest.mark.parametrize("prepare", [a_batch, an_acceptance_with_its_tag])
def test_broken_off_anywhere_it_leaves_nothing_behind_and_a_retry_works(
    prepare: Callable[[], Callable[[str], Any]], unguarded_after: None
) -> None:
    break_everywhere(prepare)
