"""The find box: one hit opens at once, several are listed."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.models import Spool
from spools.pages.asking import ShopRequest
from spools.queries.find import find
from spools.queries.spool import scan_code
from spools.queries.where import last_sights, say_where


def find_page(request: ShopRequest) -> HttpResponse:
    """Answer the find box."""
    text = request.GET.get("q", "").replace("\x00", "")
    found = find(text, request.user)
    if isinstance(found.only, Spool) and found.read_as == "ticket":
        return redirect("scan", scan_code(found.only))
    if isinstance(found.only, Spool):
        return redirect("spool", found.only.id)
    at = timezone.now()
    last = last_sights(found.spools)
    rows = [(spool, say_where(spool, last=last.get(spool.id), at=at)) for spool in found.spools]
    return render(request, "spools/find.html", {"found": found, "rows": rows, "find_text": text})


urlpatterns = [path("find/", find_page, name="find")]
