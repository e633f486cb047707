"""The stock room: bars and drops by size, receiving, counting, scrapping, one bar's story, one heat's trace."""

from pathlib import PurePath
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import FileResponse, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from cutlists.actions.correct_heat import correct_heat
from cutlists.actions.count_bar import count_bar
from cutlists.actions.keep_certificate import keep_certificate
from cutlists.actions.receive_bars import WHO, receive_bars
from cutlists.actions.return_piece import return_piece
from cutlists.actions.scrap_bar import scrap_bar
from cutlists.models import StockBar
from cutlists.pages.stock_forms import CertificateForm, ReceiveForm
from cutlists.pages.typed import typed_length_mm
from cutlists.queries.stock import (
    STOCK_COLUMNS,
    bars_in,
    bars_of_heat,
    cuts_of_bar,
    legs_to_return,
    one_bar,
    one_heat,
    pieces_of_heat,
    stock_rows,
    stock_units,
    story_of_bar,
    totals,
    with_plans,
)
from cutlists.saving import serves
from spools.errors import ShopError, not_found
from spools.exports import export
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.say_lengths import say_length

PAGE = 50
TYPES = {".pdf": "application/pdf", ".png": "image/png", ".jpg": "image/jpeg"}


def stock(request: ShopRequest) -> HttpResponse:
    """Show what lies there, by size."""
    code, gone = request.GET.get("pipe", "")[:60], request.GET.get("show") == "gone"
    page = Paginator(bars_in(request.user, pipe_code=code, gone=gone), PAGE).get_page(request.GET.get("page"))
    by_pipe = totals(request.user)
    context = {
        "totals": by_pipe,
        "has_drops": any(pipe.drops for pipe in by_pipe),
        "page": page,
        "bars": with_plans(page.object_list),
        "code": code,
        "gone": gone,
        "units": stock_units(request.user.the_shop),
        "may_receive": request.user.may(WHO),
        "tabs": [
            {"label": "On hand", "url": "?", "current": not gone},
            {"label": "Used up and scrapped", "url": "?show=gone", "current": gone},
        ],
    }
    return render(request, "cutlists/stock.html", context)


def stock_export(request: ShopRequest, kind: str) -> HttpResponse:
    """Give the stock as CSV or XLSX."""
    gone = request.GET.get("show") == "gone"
    bars = bars_in(request.user, pipe_code=request.GET.get("pipe", "")[:60], gone=gone)
    return export("stock", kind, STOCK_COLUMNS, stock_rows(bars))


def receive(request: ShopRequest) -> HttpResponse:
    """Book bars in."""
    units = stock_units(request.user.the_shop)
    form = ReceiveForm(request.POST or None, units=units)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        try:
            bars = receive_bars(
                lengths_mm=given.pop("lengths"), nominal_mm=given.pop("nominal"), **given, **_call(request)
            )
        except ShopError as trouble:
            form.say(trouble)
        else:
            total = say_length(sum(bar.length_mm for bar in bars), units)
            messages.success(
                request, f"{len(bars)} received, {bars[0].tag} to {bars[-1].tag}, {total}. Paint the tags on."
            )
            return redirect("stock")
    status = 422 if request.method == "POST" else 200
    key = request.POST.get("key") or fresh_key()
    return render(request, "cutlists/stock/receive.html", {"form": form, "units": units, "key": key}, status=status)


def bar(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Show one bar: where it came from, what was cut from it, what happened to it."""
    return _bar_page(request, one_bar(bar_id, request.user))


@require_POST
def scrap(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Scrap one bar."""
    try:
        done = scrap_bar(bar_id=bar_id, reason=request.POST.get("reason", "")[:200], **_call(request))
    except ShopError as trouble:
        return _bar_page(request, one_bar(bar_id, request.user), trouble=trouble)
    messages.warning(request, f"{done.tag} is scrapped.")
    return redirect("stock-bar", bar_id)


@require_POST
def count(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Put a bar's length and place right, or confirm them."""
    found = one_bar(bar_id, request.user)
    posted = request.POST
    try:
        text = posted.get("length", "").strip()
        length_mm = typed_length_mm("length", text, stock_units(found.shop)) if text else None
        count_bar(
            bar_id=bar_id,
            length_mm=found.length_mm if length_mm is None else length_mm,
            rack=posted.get("rack", ""),
            reason=posted.get("reason", "")[:200],
            **_call(request),
        )
    except ShopError as trouble:
        return _bar_page(request, found, trouble=trouble)
    messages.success(request, f"{found.tag} is counted.")
    return redirect("stock-bar", bar_id)


@require_POST
def bar_heat(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Put a wrongly typed heat right, on the bar and on everything that was cut from it."""
    posted = request.POST
    try:
        done = correct_heat(
            bar_id=bar_id, heat=posted.get("heat", "")[:40], reason=posted.get("reason", "")[:200], **_call(request)
        )
    except ShopError as trouble:
        return _bar_page(request, one_bar(bar_id, request.user), trouble=trouble)
    spools = f"{done.spools} spool{'' if done.spools == 1 else 's'}"
    messages.success(request, f"{done.bar} is of heat {done.bar.heat}; so are its pieces on {spools}.")
    return redirect("stock-bar", bar_id)


def heat(request: ShopRequest, heat_id: int) -> HttpResponse:
    """Show one heat: its bars, and every piece and spool it went into."""
    return _heat_page(request, heat_id, CertificateForm())


@require_POST
def certificate_new(request: ShopRequest, heat_id: int) -> HttpResponse:
    """Keep a mill certificate with its heat."""
    form = CertificateForm(request.POST, request.FILES)
    if not form.is_valid():
        return _heat_page(request, heat_id, form)
    keep_certificate(heat_id=heat_id, file=form.cleaned_data["certificate"], person=request.user, at=timezone.now())
    messages.success(request, "The certificate is kept with its heat.")
    return redirect("heat", heat_id)


def certificate(request: ShopRequest, heat_id: int) -> FileResponse:
    """Hand out a heat's certificate."""
    found = one_heat(heat_id, request.user)
    if not found.certificate:
        raise not_found("certificate of that heat")
    ending = PurePath(str(found.certificate.name)).suffix
    kind = TYPES.get(ending, "application/octet-stream")
    name = f"heat-{found.id}{ending}"
    return FileResponse(found.certificate.open("rb"), content_type=kind, as_attachment=True, filename=name)


def legs(request: ShopRequest) -> HttpResponse:
    """Show the cut legs of builds that have ended: still good, to trim, or back to the rack."""
    return _legs_page(request)


@require_POST
def leg_return(request: ShopRequest, piece_id: int) -> HttpResponse:
    """Put a leg back in the rack."""
    posted = request.POST
    try:
        usable_mm = typed_length_mm("usable", posted.get("usable", ""), stock_units(request.user.the_shop))
        rack = posted.get("rack", "")
        found = return_piece(piece_id=piece_id, usable_mm=usable_mm, rack=rack, **_call(request))
    except ShopError as trouble:
        return _legs_page(request, trouble=trouble, piece_id=piece_id)
    messages.success(request, f"It is in the rack as {found.tag}: paint the tag on.")
    return redirect("stock-bar", found.id)


def _call(request: ShopRequest) -> dict[str, Any]:
    return {"person": request.user, "key": posted_key(request), "at": timezone.now()}


def _bar_page(request: ShopRequest, found: StockBar, *, trouble: ShopError | None = None) -> HttpResponse:
    context = {
        "bar": found,
        "units": stock_units(found.shop),
        "story": story_of_bar(found),
        "cuts": cuts_of_bar(found),
        "drops": found.drops.order_by("id"),
        "serves": serves(found, found.length_u) if found.state == StockBar.State.IN_STOCK and found.is_drop else (),
        "key": fresh_key(),
        "trouble": trouble,
        "posted": request.POST,
        "may_change": request.user.may(WHO),
    }
    return render(request, "cutlists/stock/bar.html", context, status=trouble.status if trouble else 200)


def _heat_page(request: ShopRequest, heat_id: int, form: CertificateForm) -> HttpResponse:
    found = one_heat(heat_id, request.user)
    context = {
        "heat": found,
        "units": stock_units(request.user.the_shop),
        "bars": bars_of_heat(found)[:200],
        "page": Paginator(pieces_of_heat(found), PAGE).get_page(request.GET.get("page")),
        "form": form,
    }
    return render(request, "cutlists/stock/heat.html", context, status=422 if form.errors else 200)


def _legs_page(request: ShopRequest, *, trouble: ShopError | None = None, piece_id: int = 0) -> HttpResponse:
    context = {
        "legs": legs_to_return(request.user),
        "key": fresh_key(),
        "trouble": trouble,
        "trouble_at": piece_id,
        "posted": request.POST,
        "may_change": request.user.may(WHO),
    }
    return render(request, "cutlists/stock/legs.html", context, status=trouble.status if trouble else 200)


urlpatterns = [
    path("stock/", stock, name="stock"),
    path("stock/receive/", receive, name="stock-receive"),
    path("stock/legs/", legs, name="legs"),
    path("stock/legs/<int:piece_id>/return/", leg_return, name="leg-return"),
    path("stock/bars/<int:bar_id>/", bar, name="stock-bar"),
    path("stock/bars/<int:bar_id>/scrap/", scrap, name="bar-scrap"),
    path("stock/bars/<int:bar_id>/count/", count, name="bar-count"),
    path("stock/bars/<int:bar_id>/heat/", bar_heat, name="bar-heat"),
    path("stock/heats/<int:heat_id>/", heat, name="heat"),
    path("stock/heats/<int:heat_id>/certificate/", certificate, name="heat-certificate"),
    path("stock/heats/<int:heat_id>/certificate/new/", certificate_new, name="heat-certificate-new"),
    path("stock.<str:kind>", stock_export, name="stock-export"),
]
