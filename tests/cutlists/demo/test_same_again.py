"""The same days played twice are the same."""

from datetime import UTC, datetime

import pytest
from django.db import transaction

from cutlists.demo.play import play
from cutlists.models import Cut, StockBar
from spools.models import Event, Reading

NOW = datetime(2026, 11, 28, 10, tzinfo=UTC)
FIRST_DAYS = 6


def what_happened():
    """Play the first days, and return everything that was written in plain values; nothing stays."""
    with transaction.atomic():
        play(NOW, days=FIRST_DAYS)
        events = [
            (e.spool.label, e.number, e.code, e.targets, e.person.username, e.done_at, e.reason)
            for e in Event.objects.select_related("spool__tie_in", "person").order_by("id")
        ]
        readings = list(Reading.objects.order_by("id").values_list("leg_a_text", "leg_b_text", "included_text"))
        cuts = sorted(Cut.objects.values_list("piece__spool__tie_in__mark", "piece__mark", "length_u", "state"))
        bars = list(
            StockBar.objects.filter(is_drop=False).order_by("id").values_list("tag", "received_u", "heat__number")
        )
        transaction.set_rollback(True)
    return events, readings, cuts, bars


@pytest.mark.django_db
def test_the_first_days_played_twice_are_the_same():
    first, second = what_happened(), what_happened()
    assert first[0]
    assert first == second
