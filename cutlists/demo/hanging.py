"""What the field says in the hole: what was delivered is hung the next days, in walking order, and fits or doesn't."""

from collections.abc import Iterable
from datetime import datetime
from functools import partial

from cutlists.demo.diary import Diary
from spools.actions.say_fit import FITS, say_fit

CREW = 2  # the crew that hangs; the other one measures
FIRST_AT, EACH = "07:20", 18  # minutes from one spool to the next, the walk between them too
A_DAY = 32
MISFIT = "does not fit"


def hang(diary: Diary, marks: Iterable[int]) -> None:
    """Put the hanging of what was just delivered on the days after; what doesn't fit is told in its own story."""
    following = diary.month.next_worked()
    day = diary.month.day_of(diary.now)
    for place, mark in enumerate(sorted(mark for mark in marks if not _is_a_misfit(diary, mark))):
        if place % A_DAY == 0:
            if day not in following:
                return
            day = following[day]
        at = diary.month.tick(day, FIRST_AT) + EACH * (place % A_DAY)
        diary.put(at, partial(_fits, diary, diary.spool_id(mark)))


def _is_a_misfit(diary: Diary, mark: int) -> bool:
    return diary.lots[mark].story.startswith(MISFIT) and diary.spools[mark].build == 1


def _fits(diary: Diary, spool_id: int, at: datetime) -> None:
    say_fit(spool_id=spool_id, how=FITS, person=diary.ground.crew.field[CREW], key=diary.key(), at=at)
