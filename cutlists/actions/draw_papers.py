"""Draw a packet that was asked for: whoever holds the lease draws it, into one whole file or none."""

import logging
import os
from datetime import datetime, timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q

from cutlists.models import PaperJob
from cutlists.papers.heading import Printing
from cutlists.papers.packets import PACKETS
from spools.clock import now
from spools.errors import ShopError

log = logging.getLogger(__name__)
MOST_FAILURES = 5
MOST_TRIES = 30  # workers that died over it included: what kills every worker must not be drawn for ever


class CalledOff(Exception):
    """The packet was called off, or somebody else holds the lease now."""


def due_jobs(at: datetime) -> list[int]:
    """Return the packets that nobody is drawing: new ones, and those whose drawer has died."""
    waiting = Q(state=PaperJob.State.WAITING)
    orphaned = Q(state=PaperJob.State.RUNNING, leased_until__lt=at)
    return list(PaperJob.objects.filter(waiting | orphaned).order_by("asked_at").values_list("id", flat=True)[:100])


def draw_papers(job_id: int) -> bool:
    """Draw one packet if it is free; return whether it is done now. Safe to call any number of times."""
    tries = _take_lease(job_id)
    if tries is None:
        return False
    job = PaperJob.objects.select_related("asked_by__shop").get(id=job_id)
    try:
        _draw(job, tries)
    except CalledOff:
        return False
    except Exception as trouble:
        log.exception("Packet %s could not be drawn", job_id)
        why = str(trouble) if isinstance(trouble, ShopError) else f"{type(trouble).__name__}: {trouble}"
        _put_back(job, tries, why, over=tries - job.tries_before >= MOST_FAILURES)
        return False
    return True


def _put_back(job: PaperJob, tries: int, why: str, *, over: bool) -> None:
    state, finished = (PaperJob.State.FAILED, now()) if over else (PaperJob.State.WAITING, None)
    held = PaperJob.objects.filter(id=job.id, tries=tries, state=PaperJob.State.RUNNING)
    held.update(state=state, trouble=why[:200], leased_until=None, finished_at=finished)


def _take_lease(job_id: int) -> int | None:
    """Take the lease; return the number of this try, or None when somebody else holds it or it is over."""
    at = now()
    free = Q(state=PaperJob.State.WAITING) | Q(state=PaperJob.State.RUNNING, leased_until__lt=at)
    with transaction.atomic():
        taken = PaperJob.objects.filter(free, id=job_id).update(
            state=PaperJob.State.RUNNING, leased_until=at + _lease(), tries=F("tries") + 1, done_count=0
        )
        if not taken:
            return None
        job = PaperJob.objects.get(id=job_id)
    if job.tries - job.tries_before > MOST_TRIES:
        _put_back(job, job.tries, f"The drawing broke off {MOST_TRIES} times.", over=True)
        return None
    return job.tries


def _lease() -> timedelta:
    return timedelta(seconds=settings.PAPER_LEASE_S)


def _draw(job: PaperJob, tries: int) -> None:
    folder, name = job.file.parent, job.file.name
    folder.mkdir(parents=True, exist_ok=True)
    for left_lying in folder.glob(f"{name}.*.part"):  # by a worker that died
        left_lying.unlink(missing_ok=True)
    part = folder / f"{name}.{tries}.part"
    mine = PaperJob.objects.filter(id=job.id, tries=tries, state=PaperJob.State.RUNNING)

    def progress(done: int) -> None:
        if not mine.update(done_count=done, leased_until=now() + _lease()):
            raise CalledOff

    try:
        with part.open("wb") as out:
            printing = Printing(job.asked_by, now())
            PACKETS[job.sheet].write(out, job.spool_ids, printing, paper=job.paper, progress=progress)
            out.flush()
            os.fsync(out.fileno())
        progress(job.total)  # only who still holds the lease may show its file
        part.replace(job.file)
    finally:
        part.unlink(missing_ok=True)
    if not mine.update(state=PaperJob.State.DONE, file_name=name, finished_at=now(), leased_until=None, trouble=""):
        raise CalledOff
