"""Play the demo's month: the same every time, ending with the last shift before now."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import partial

from django.db import transaction

from cutlists.demo.building import fill_nail
from cutlists.demo.diary import Diary
from cutlists.demo.floor import run_floor
from cutlists.demo.ground import lay_ground
from cutlists.demo.jigs import run_jigs
from cutlists.demo.lots import lots_of
from cutlists.demo.measuring import measure
from cutlists.demo.month import month_before
from cutlists.demo.rework import run_rework
from cutlists.demo.saw import Saw
from cutlists.demo.scenario import LAST_DAY
from cutlists.demo.trucks import run_trucks


@contextmanager
def collector_paused() -> Iterator[None]:
    """Leave the garbage alone meanwhile: looking for it costs a seventh of the playing, and little is found."""
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


@transaction.atomic
def play(now: datetime, *, days: int = LAST_DAY) -> Diary:
    """Make the shop and play the month's first days, or all of them, in one transaction; returns the diary."""
    month = month_before(now)
    diary = Diary(month, lay_ground(month), {lot.mark: lot for lot in lots_of(month)})
    diary.on(2, "13:00", partial(fill_nail, diary))
    run_jigs(diary)
    measure(diary)
    run_floor(diary)
    run_rework(diary)
    run_trucks(diary)
    saw = Saw(diary)
    saw.set_up()
    with collector_paused():
        diary.play(until=month.tick(days, "16:30"))
    return diary
