"""Whether anything that a page shows has changed since it was last asked for: a short text, equal when nothing has."""

import hashlib
from datetime import datetime

from spools.models import Bench, Event, Person, Reading
from spools.solving import ENGINE

# Numbers are drawn before the commit, so an event can appear below the newest one; it is not further down than the
# writers that work at once.
AT_ONCE = 64


def freshness(person: Person, *, at: datetime, asked: str) -> str:
    """Return an ETag for one person's page: the newest events, the benches, the newest reading, the minute, who asks.

    The minute stands for what changes by the clock alone: late, at risk, the day.
    """
    shop = person.the_shop_id
    events = Event.objects.filter(spool__shop_id=shop).order_by("-id").values_list("id", flat=True)[:AT_ONCE]
    benches = Bench.objects.filter(shop_id=shop).order_by("id").values_list("id", "name", "down_since", "set_up_nps")
    reading = Reading.objects.filter(tie_in__job__shop_id=shop).order_by("-id").values_list("id", flat=True)[:1]
    told = (
        list(events),
        list(benches),
        list(reading),
        f"{at:%Y-%m-%d %H:%M}",
        person.id,
        sorted(person.role_set),
        asked,
        ENGINE,
    )
    return f'"{hashlib.sha256(repr(told).encode()).hexdigest()[:24]}"'
