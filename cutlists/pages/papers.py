"""Papers: every sheet on offer, and packets drawn in the background with their progress."""

from django.core.paginator import Paginator
from django.http import FileResponse, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from cutlists.actions.ask_papers import ask_again, ask_papers, call_off_papers
from cutlists.models import PaperJob
from cutlists.pages.printing import keep_paper
from cutlists.papers.packets import PACKETS
from cutlists.queries.papers import LISTS, offers_to, to_print
from cutlists.sheets import PAPERS, SHEET_PAPERS
from cutlists.tasks import draw_packet
from spools.background import after_commit
from spools.errors import not_found
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_numbers

PAGE = 50


def papers(request: ShopRequest) -> HttpResponse:
    """Offer every sheet that can be printed now, a packet of many, and list the packets, newest first."""
    paper = keep_paper(request)
    rows = PaperJob.objects.for_person(request.user).select_related("asked_by")
    which = request.GET.get("for", "cut")
    context = {
        "page": Paginator(rows, PAGE).get_page(request.GET.get("page")),
        "offers": offers_to(request.user),
        "ready": to_print(request.user, which),
        "list_tabs": [
            {"label": words, "url": f"?for={code}", "current": code == which} for code, words in LISTS.items()
        ],
        "paper_tabs": [
            {"label": known.word, "url": f"?for={which}&paper={known.code}", "current": known == paper}
            for known in SHEET_PAPERS
        ],
        "packets": PACKETS,
        "paper": paper,
        "paper_choices": PAPERS,
        "key": fresh_key(),
    }
    return render(request, "cutlists/papers.html", context)


@require_POST
def paper_new(request: ShopRequest) -> HttpResponse:
    """Ask for a packet."""
    job = ask_papers(
        sheet=request.POST.get("sheet", "cut_ticket"),
        paper=request.POST.get("paper", "letter"),
        spool_ids=posted_numbers(request.POST.getlist("spool")),
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
    )
    after_commit(draw_packet, job.id)
    return redirect("paper-job", job.id)


def paper_job(request: ShopRequest, job_id: int) -> HttpResponse:
    """Show how far one packet is; the page asks again by itself while it is being drawn."""
    job = _job(request, job_id)
    name = "cutlists/papers/_job.html" if request.htmx else "cutlists/paper_job.html"
    return render(request, name, {"job": job, "key": fresh_key()})


@require_POST
def paper_cancel(request: ShopRequest, job_id: int) -> HttpResponse:
    """Call a packet off, or ask for it again."""
    if request.POST.get("again") == "yes":
        job = ask_again(job_id=job_id, person=request.user)
        after_commit(draw_packet, job.id)
    else:
        call_off_papers(job_id=job_id, person=request.user, at=timezone.now())
    return redirect("paper-job", job_id)


def paper_file(request: ShopRequest, job_id: int) -> FileResponse:
    """Hand out a finished packet."""
    job = _job(request, job_id)
    if not job.ready:
        raise not_found("finished packet of that number")
    return FileResponse(
        job.file.open("rb"), content_type="application/pdf", filename=f"{job.sheet.replace('_', '-')}s-{job.id}.pdf"
    )


def _job(request: ShopRequest, job_id: int) -> PaperJob:
    job = PaperJob.objects.for_person(request.user).select_related("asked_by", "shop").filter(id=job_id).first()
    if job is None:
        raise not_found("packet of that number")
    return job


urlpatterns = [
    path("papers/", papers, name="papers"),
    path("papers/new/", paper_new, name="paper-new"),
    path("papers/<int:job_id>/", paper_job, name="paper-job"),
    path("papers/<int:job_id>/call-off/", paper_cancel, name="paper-cancel"),
    path("papers/<int:job_id>.pdf", paper_file, name="paper-file"),
]
