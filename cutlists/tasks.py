"""What workers do: draw one packet, look longer for a plan, and look for work that nobody does."""

from celery import shared_task

from cutlists.actions.draw_papers import draw_papers, due_jobs
from cutlists.actions.search_plan import due_searches, run_search
from spools.background import nudge
from spools.clock import now


@shared_task(name="cutlists.draw_packet")
def draw_packet(job_id: int) -> bool:
    """Draw one packet; the row in the database says whether there is anything to do."""
    return draw_papers(job_id)


@shared_task(name="cutlists.search_plan")
def search_plan(search_id: int) -> bool:
    """Look longer for one plan; the row in the database says whether there is anything to do."""
    return run_search(search_id)


def sweep() -> int:
    """Send every packet and every search that nobody does to the workers again; return how many.

    With no queue to send through, whoever sweeps does them.
    """
    at = now()
    jobs, searches = due_jobs(at), due_searches(at)
    for job_id in jobs:
        if not nudge(draw_packet, job_id):
            draw_papers(job_id)
    for search_id in searches:
        if not nudge(search_plan, search_id):
            run_search(search_id)
    return len(jobs) + len(searches)
