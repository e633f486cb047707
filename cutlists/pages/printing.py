"""What every sheet's page shares: the chosen paper, kept for the session, and the answer as a PDF."""

from collections.abc import Callable
from io import BytesIO
from typing import BinaryIO

from django.http import HttpResponse
from django.utils import timezone

from cutlists.papers.heading import Printing
from cutlists.sheets import SHEET_PAPERS, Paper
from spools.errors import invalid
from spools.pages.asking import ShopRequest

KEPT_AS = "paper"


def chosen_paper(request: ShopRequest) -> Paper:
    """Return the paper asked for, or the one last chosen; letter at first. Raises ``ShopError`` invalid."""
    asked = request.GET.get("paper", "")
    code = asked or request.session.get(KEPT_AS, "")
    paper = next((paper for paper in SHEET_PAPERS if paper.code == code), None)
    if paper is None and asked:
        raise invalid({"paper": f"Choose from {', '.join(paper.code for paper in SHEET_PAPERS)}."})
    return paper or SHEET_PAPERS[0]


def keep_paper(request: ShopRequest) -> Paper:
    """Return the chosen paper and keep it for the sheets printed after this."""
    paper = chosen_paper(request)
    if request.session.get(KEPT_AS) != paper.code:
        request.session[KEPT_AS] = paper.code
    return paper


def as_pdf(request: ShopRequest, name: str, write: Callable[[BinaryIO, Printing, Paper], object]) -> HttpResponse:
    """Write a sheet for this person now and answer with it, to open in the browser."""
    out = BytesIO()
    write(out, Printing(request.user, timezone.now()), chosen_paper(request))
    answer = HttpResponse(out.getvalue(), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer
