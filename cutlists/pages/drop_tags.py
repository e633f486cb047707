"""Tags of drops and bars: printed on film or paper, and opened again by their code."""

from io import BytesIO

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils import timezone

from cutlists.models import StockBar
from cutlists.pages.printing import chosen_paper
from cutlists.papers.drop_tags import FILM, write_tags_of
from cutlists.papers.heading import Printing
from cutlists.queries.stock import bar_of_tag, drops_on_rack, newest_job, one_bar
from spools.errors import not_found
from spools.pages.asking import ShopRequest

MOST = 400


def bar_scan(request: ShopRequest, tag: str) -> HttpResponse:
    """Open the bar or drop of a scanned tag."""
    return redirect("stock-bar", bar_of_tag(tag, request.user).id)


def bar_tag(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Print the tag of one drop or bar: on a film label where asked, else on the paper last chosen."""
    found = one_bar(bar_id, request.user)
    return _tags(request, f"tag-{found.id}", [found])


def bar_tags(request: ShopRequest) -> HttpResponse:
    """Print the tags of the drops in the rack, of one pipe or of all."""
    return _tags(request, "tags", list(drops_on_rack(request.user, pipe_code=request.GET.get("pipe", "")[:60])[:MOST]))


def _tags(request: ShopRequest, name: str, bars: list[StockBar]) -> HttpResponse:
    if not bars:
        raise not_found("drop in the rack")
    film = request.GET.get("paper") == FILM.code
    out = BytesIO()
    printing = Printing(request.user, timezone.now())
    paper = FILM if film else chosen_paper(request)
    write_tags_of(out, bars, printing, paper=paper, measured_as=newest_job(request.user.the_shop))
    answer = HttpResponse(out.getvalue(), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


urlpatterns = [
    path("stock/bars/<int:bar_id>/tag.pdf", bar_tag, name="bar-tag"),
    path("stock/tags.pdf", bar_tags, name="bar-tags"),
    path("b/<str:tag>/", bar_scan, name="bar-scan"),
    path("B/<str:tag>", bar_scan, name="bar-scan-printed"),  # as tags print it: upper case keeps the code small
]
