"""Readings that close, and the spools released from them."""

from datetime import UTC, datetime
from itertools import count
from typing import Any

from spools.actions.take_reading import Taken, take_reading
from spools.flow.roles import Role
from spools.models import Spool, TieIn
from spools.solving import Typed
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop

_keys = count(1)
NOON = datetime(2026, 11, 24, 15, 0, tzinfo=UTC)  # a Tuesday, 09:00 in the shop
CLOSES = Typed(leg_a="36 1/8", leg_b="22 9/16", included="127.5", closing="53")


def make_key() -> str:
    """A fresh caller's key."""
    return f"key-{next(_keys)}"


def take(tie_in: TieIn, typed: Typed = CLOSES, **fields: Any) -> Taken:
    """Take a reading of a tie-in with a field hand of its shop."""
    shop = tie_in.job.shop
    values = {
        "set_points_id": (shop.jigs.first() or make_set_points(shop).jig).set_points.first().id,
        "person": shop.people.filter(username="fieldhand").first() or make_person(shop, Role.FIELD, name="Fieldhand"),
        "key": make_key(),
        "at": NOON,
    } | fields
    return take_reading(tie_in_id=tie_in.id, typed=typed, **values)


def make_spool(mark: str = "214", **fields: Any) -> Spool:
    """A released spool of a new job, or of the given ``job``."""
    job = fields.pop("job", None) or make_job(make_shop())
    return take(make_tie_in(job, mark, **fields)).spool
