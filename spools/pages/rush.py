"""Rushing a spool: what it pushes back is seen first, and who asked and by when is written down."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.actions.rush_spool import rush_spool
from spools.errors import ShopError, invalid
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.queries.rush import rush_asked
from spools.queries.spool import one_spool


def rush(request: ShopRequest, spool_id: int) -> HttpResponse:
    """Show what the rush pushes back; take who asked and by when."""
    spool, at, trouble = one_spool(spool_id, request.user), timezone.now(), None
    if request.method == "POST":
        try:
            _rush(request, spool.id)
        except ShopError as refusal:
            trouble = refusal
        else:
            messages.success(request, f"{spool.label} is a rush: it comes first everywhere.")
            return redirect("spool", spool.id)
    context = {
        "spool": spool,
        "asked": rush_asked(spool, request.user, at=at),
        "shop": request.user.the_shop,
        "key": request.POST.get("key") or fresh_key(),
        "trouble": trouble,
        "posted": request.POST,
    }
    return render(request, "spools/rush.html", context, status=trouble.status if trouble else 200)


def _rush(request: ShopRequest, spool_id: int) -> None:
    posted = request.POST
    empty = {name: words for name, words in ASKS.items() if not posted.get(name, "").strip()}
    if empty:
        raise invalid(empty, "A rush needs a name and a time.")
    rush_spool(
        spool_id=spool_id,
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        asked_by=posted["asked_by"],
        by_when=posted["by_when"],
        reason=posted.get("reason", "")[:150],
    )


ASKS = {"asked_by": "Write who asked for it.", "by_when": "Write by when, such as Fri 10:00."}

urlpatterns = [path("spools/<int:spool_id>/rush/", rush, name="rush")]
