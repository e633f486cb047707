"""Where is it: one spool's last sight, next move and time left, in one sentence."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from spools.flow.steps import BY_CODE, say
from spools.models import Event, Spool

WHOSE_MOVE = {
    "cut": "the saw",
    "grooved": "the groover",
    "beveled": "the beveler",
    "welded": "the fitter",
    "accepted": "somebody other than the welder, to look and measure",
    "at_coating": "the driver",
    "back": "the galvanizer",
    "delivered": "the driver",
}


def whose_move(spool: Spool) -> str:
    """Whose move it is, in words."""
    standing = spool.the_standing
    if standing.ended:
        return "nobody"
    if standing.holds:
        return standing.holds[-1].owner
    return WHOSE_MOVE.get(spool.next_step, "nobody: it is on site")


def last_sights(spools: Iterable[Spool]) -> dict[int, Event]:
    """Return each spool's newest event that stands, by the spool's number (one query)."""
    events = Event.objects.filter(spool__in=[spool.id for spool in spools]).select_related("person")
    undone: set[tuple[int, int]] = set()
    found: dict[int, Event] = {}
    for event in events.order_by("-number"):
        if event.undoes_id:
            undone.add((event.spool_id, event.details["undoes_number"]))
        elif (event.spool_id, event.number) not in undone:
            found.setdefault(event.spool_id, event)
    return found


def say_where(spool: Spool, *, last: Event | None, at: datetime) -> str:
    """Return one sentence: ``214: welded Tue 10:42 by Ruiz, bench 3, waiting to be accepted; 2 h inside its day.``"""
    parts = [f"{spool.label}: {_last_sight(spool, last)}"]
    if spool.bench and not spool.accepted_at:
        parts.append(spool.bench.called)
    parts.append(_next_move(spool))
    sentence = ", ".join(part for part in parts if part)
    time_left = _time_left(spool, at)
    return f"{sentence}; {time_left}." if time_left else f"{sentence}."


def _last_sight(spool: Spool, last: Event | None) -> str:
    if last is None:
        return spool.status_word
    local = last.done_at.astimezone(spool.shop.zone)
    what = say(last.code)
    if (
        last.code in BY_CODE
        and BY_CODE[last.code].on != "spool"
        and not spool.the_standing.passed(last.code, spool.the_route)
    ):
        what = f"partly {what}"
    return f"{what} {local:%a %-d %b %H:%M} by {last.person.short_name}"


def _next_move(spool: Spool) -> str:
    standing = spool.the_standing
    if standing.ended:
        return "this build has ended"
    if standing.holds:
        hold = standing.holds[-1]
        return f"on hold: {hold.reason} ({hold.owner})"
    if not spool.next_step:
        return "nothing left to do"
    return {
        "accepted": "waiting to be accepted",
        "at_coating": "ready for coating",
        "back": "at the galvanizer",
        "delivered": "ready to load for site",
    }.get(spool.next_step, f"next: {BY_CODE[spool.next_step].imperative.lower()}")


def _time_left(spool: Spool, at: datetime) -> str:
    if spool.accepted_at:
        late = spool.accepted_at - spool.due_at
        return f"accepted {say_span(late)} late" if late > timedelta(0) else "accepted inside its day"
    if not spool.live:
        return ""
    left = spool.due_at - at
    return f"{say_span(left)} inside its day" if left >= timedelta(0) else f"{say_span(-left)} late"


def say_span(span: timedelta) -> str:
    """Return a stretch of time in the words of the floor: ``25 min``, ``3 h``, ``2 days``."""
    minutes = int(span.total_seconds() // 60)
    if minutes < 60:
        return f"{minutes} min"
    if minutes < 48 * 60:
        return f"{minutes // 60} h"
    return f"{minutes // 1440} days"
