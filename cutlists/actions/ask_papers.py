"""Ask for papers in bulk: the row is written at once, the drawing happens in the background."""

from collections.abc import Sequence
from datetime import datetime

from cutlists.models import PaperJob
from cutlists.papers.packets import PACKETS
from cutlists.papers.single import refuse_old_paper
from cutlists.sheets import PAPERS
from spools.errors import invalid, key_reused, not_found
from spools.models import Person, Spool
from spools.transactions import all_or_nothing

MOST = 5000


@all_or_nothing
def ask_papers(*, sheet: str, paper: str, spool_ids: Sequence[int], person: Person, key: str, at: datetime) -> PaperJob:
    """Ask for one packet; the same key again is the same packet.

    Raises ``ShopError``: invalid, not_found, old_paper for a build that has ended, key_reused when the key came before
    with other spools or paper.
    """
    wanted = list(dict.fromkeys(spool_ids))
    earlier = PaperJob.objects.for_person(person).filter(key=key).first()
    if earlier:
        if (earlier.sheet, earlier.paper, earlier.spool_ids) != (sheet, paper, wanted):
            raise key_reused()
        return earlier
    if sheet not in PACKETS:
        raise invalid({"sheet": f"Choose from {', '.join(PACKETS)}."})
    if paper not in {known.code for known in PAPERS}:
        raise invalid({"paper": f"Choose from {', '.join(known.code for known in PAPERS)}."})
    if not wanted or len(wanted) > MOST:
        raise invalid({"spools": f"Tick 1 to {MOST} spools."}, "No packet yet.")
    if Spool.objects.for_person(person).filter(id__in=wanted).count() != len(wanted):
        raise not_found("spool of one of those numbers")
    for ended in Spool.objects.filter(id__in=wanted, live=False).select_related("tie_in")[:1]:
        refuse_old_paper(ended)
    return PaperJob.objects.create(
        shop_id=person.the_shop_id,
        key=key,
        sheet=sheet,
        paper=paper,
        spool_ids=wanted,
        asked_by=person,
        asked_at=at,
        total=len(wanted),
    )


@all_or_nothing
def call_off_papers(*, job_id: int, person: Person, at: datetime) -> PaperJob:
    """Call a packet off; what is being drawn stops at its next part."""
    job = PaperJob.objects.select_for_update(of=("self",)).for_person(person).filter(id=job_id).first()
    if job is None:
        raise not_found("packet of that number")
    if job.state in {PaperJob.State.WAITING, PaperJob.State.RUNNING}:
        job.state, job.finished_at, job.leased_until = PaperJob.State.CANCELLED, at, None
        job.save(update_fields=["state", "finished_at", "leased_until"])
    return job


@all_or_nothing
def ask_again(*, job_id: int, person: Person) -> PaperJob:
    """Put a packet back in the queue that failed, was called off, or whose file is gone."""
    job = PaperJob.objects.select_for_update(of=("self",)).for_person(person).filter(id=job_id).first()
    if job is None:
        raise not_found("packet of that number")
    if job.over:
        job.state, job.tries_before, job.done_count = PaperJob.State.WAITING, job.tries, 0
        job.trouble, job.finished_at = "", None
        job.save(update_fields=["state", "tries_before", "done_count", "trouble", "finished_at"])
    return job
