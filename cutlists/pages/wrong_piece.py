"""A piece turns out wrong after it left the saw: told on its spool's page, its steel is booked where it was cut."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.models import Cut
from cutlists.pages.typed import typed_length_mm
from cutlists.queries.after_wrong import say_wrong
from spools.actions.wrong_cut import wrong_cut
from spools.errors import ShopError, not_found
from spools.models import Piece
from spools.pages.asking import ShopRequest, posted_key, posted_number
from spools.pages.spool import spool_trouble


@require_POST
def piece_wrong(request: ShopRequest) -> HttpResponse:
    """Record a piece as cut wrong: from its bar's account where it was cut by a plan, else on its spool alone."""
    piece = _piece(request, posted_number(request.POST.get("piece", "")))
    try:
        messages.success(request, _record(request, piece))
    except ShopError as trouble:
        return spool_trouble(request, piece.spool_id, trouble)
    return redirect("spool", piece.spool_id)


def _record(request: ShopRequest, piece: Piece) -> str:
    posted = request.POST
    real = posted.get("real", "").strip()[:40]
    said: dict[str, Any] = {
        "reason": posted.get("reason", "")[:200],
        "real_mm": typed_length_mm("real", real, piece.spool.tie_in.job.units) if real else None,
        "person": request.user,
        "key": posted_key(request),
        "at": timezone.now(),
    }
    cut = Cut.objects.filter(piece=piece, state=Cut.State.DONE).order_by("-id").first() if piece.is_cut else None
    if cut:
        wrong_at_saw(cut_id=cut.id, **said)
        return say_wrong(cut, said["key"])
    wrong_cut(spool_id=piece.spool_id, piece=piece.mark, **said)
    return f"{piece}: wrong cut; it is to be cut again."


def _piece(request: ShopRequest, number: int) -> Piece:
    found = (
        Piece.objects.select_related("spool__tie_in__job")
        .filter(id=number, spool__shop_id=request.user.the_shop_id)
        .first()
    )
    if found is None:
        raise not_found("piece of that number")
    return found


urlpatterns = [path("pieces/wrong/", piece_wrong, name="piece-wrong")]
