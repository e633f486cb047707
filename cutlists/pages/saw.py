"""The saw: one bar on the screen, the next piece big, one tap when it is cut."""

from io import BytesIO
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from cutlists.actions.bar_short import bar_short
from cutlists.actions.cut_from import cut_from
from cutlists.actions.cut_piece import CutMade, cut_piece, one_cut
from cutlists.actions.skip_cut import skip_cut
from cutlists.actions.start_bar import start_bar
from cutlists.actions.take_out import take_out
from cutlists.actions.trim_elbow import trim_elbow
from cutlists.actions.undo_cut import undo_cut
from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.models import Cut
from cutlists.pages.typed import typed_length_mm
from cutlists.papers.heading import Printing
from cutlists.papers.plans import write_label
from cutlists.queries.after_wrong import say_wrong
from cutlists.queries.saw_page import SawPage, saw_page
from cutlists.units import to_mm
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_number
from spools.pages.tapping import when_tapped, whose
from spools.say_lengths import say_length


def saw(request: ShopRequest) -> HttpResponse:
    """Show one bar of one plan."""
    page = saw_page(request.user, at=timezone.now(), plan=_asked(request, "plan"), bar=_asked(request, "bar"))
    return _show(request, page)


def news(request: ShopRequest) -> HttpResponse:
    """Tell what has changed on the bar in hand since the page was drawn; nothing when nothing has."""
    page = saw_page(request.user, at=timezone.now(), plan=_asked(request, "plan"), bar=_asked(request, "bar"))
    hand, expected = page.hand, request.GET.get("next", "")
    moved = hand is None or hand.next is None or str(hand.next.cut.id) != expected
    seen = hand.news if hand else ""
    if not moved and seen == request.GET.get("seen", ""):
        return HttpResponse(status=204)
    context = {"page": page, "hand": hand, "key": fresh_key(), "moved": moved}
    return render(request, "cutlists/saw/_news.html", context)


@require_POST
def cut_done(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Record a piece as cut: as it is tapped, or when the tablet's network is back."""
    wants_json = "application/json" in request.headers.get("Accept", "")
    posted, at = request.POST, timezone.now()
    done_at = when_tapped(posted.get("done_at", ""), posted.get("sent_at", ""), at)
    try:
        made = cut_piece(
            cut_id=cut_id,
            person=whose(request, at, done_at),
            key=posted_key(request),
            at=at,
            already=posted.get("already") == "yes",
            done_at=done_at,
        )
    except ShopError as trouble:
        if not wants_json:
            raise
        return JsonResponse(_refused(trouble), status=trouble.status)
    words = _said(made)
    if wants_json:
        return JsonResponse({"state": "first" if made.recorded.words else "kept", "words": words})
    return _back(request, made.cut, words)


def _said(made: CutMade) -> str:
    words = f"{made.cut.piece}: {made.recorded.words or 'cut'}."
    if made.drop:
        left = say_length(to_mm(made.drop.length_u), made.cut.piece.spool.tie_in.job.units)
        words += f" The bar is done. Drop {made.drop}, {left}, goes to rack {made.drop.rack or 'of drops'}: tag it."
    return words


def _refused(trouble: ShopError) -> dict[str, object]:
    told = {"code": trouble.code, "words": trouble.words, "what_to_do": trouble.what_to_do, "fields": trouble.fields}
    return {"state": "refused", **told}


@require_POST
def cut_wrong(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Record a wrong cut with what the piece really measures."""
    cut = one_cut(cut_id, request.user)
    posted = request.POST
    try:
        real = posted.get("real", "").strip()
        real_mm = typed_length_mm("real", real, cut.piece.spool.tie_in.job.units) if real else None
        reason = posted.get("reason", "")[:200]
        wrong_at_saw(cut_id=cut_id, reason=reason, real_mm=real_mm, **_call(request))
    except ShopError as trouble:
        return _again(request, cut, trouble, f"wrong-{cut.id}" if cut.state == Cut.State.DONE else "wrong")
    return _back(request, cut, say_wrong(cut, posted_key(request)))


@require_POST
def cut_skip(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Leave a piece for the end of its bar."""
    cut = skip_cut(cut_id=cut_id, **_call(request))
    return _back(request, cut, f"{cut.piece} comes last on bar {cut.bar}.")


@require_POST
def cut_out(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Take a piece out of the plan."""
    cut = one_cut(cut_id, request.user)
    take_out(cut_id=cut_id, reason=request.POST.get("reason", "")[:200], **_call(request))
    return _back(request, cut, f"{cut.piece} is out of the plan.")


@require_POST
def cut_undo(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Undo one of the last cuts."""
    cut = undo_cut(cut_id=cut_id, reason=request.POST.get("reason", "")[:200], **_call(request))
    return _back(request, cut, f"{cut.piece} is not cut; its length is back on bar {cut.bar}.")


def cut_label(request: ShopRequest, cut_id: int) -> HttpResponse:
    """Print the label of one piece."""
    cut = one_cut(cut_id, request.user)
    out = BytesIO()
    write_label(out, cut, Printing(request.user, timezone.now()))
    answer = HttpResponse(out.getvalue(), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="label-{cut.id}.pdf"'
    return answer


@require_POST
def bar_start(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Lay a bar on the saw and book its heat."""
    bar = start_bar(bar_id=bar_id, heat=request.POST.get("heat", "")[:30], **_call(request))
    messages.success(request, f"Bar {bar} is on the saw{f', heat {bar.heat}' if bar.heat else ''}.")
    return _stay(request)


@require_POST
def short(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Put a bar's length right and plan its rest again."""
    cut = Cut.objects.filter(bar_id=bar_id, plan__shop_id=request.user.the_shop_id, state=Cut.State.PLANNED).first()
    try:
        units = one_cut(cut.id, request.user).piece.spool.tie_in.job.units if cut else "us"
        usable_mm = typed_length_mm("usable", request.POST.get("usable", ""), units)
        reason = request.POST.get("reason", "")[:200]
        bar_short(bar_id=bar_id, usable_mm=usable_mm, reason=reason, **_call(request))
    except ShopError as trouble:
        return _again(request, cut, trouble, "short")
    messages.warning(request, "The bar is as long as typed; its uncut pieces are planned again. Look for “changed”.")
    return _stay(request)


@require_POST
def save(request: ShopRequest, bar_id: int) -> HttpResponse:
    """Cut an open piece from a kept length."""
    cut = cut_from(piece_id=posted_number(request.POST.get("piece", "")), bar_id=bar_id, **_call(request))
    messages.success(request, f"{cut.piece} comes from {cut.bar}.")
    return redirect(f"{reverse('saw')}?plan={cut.plan_id}&bar={cut.bar_id}")


@require_POST
def elbow_done(request: ShopRequest, piece_id: int) -> HttpResponse:
    """Record an elbow as trimmed."""
    done = trim_elbow(piece_id=piece_id, heat=request.POST.get("heat", "")[:30], **_call(request))
    messages.success(request, f"{done.spool.label}: elbow {done.words or 'trimmed'}.")
    return _stay(request)


def _call(request: ShopRequest) -> dict[str, Any]:
    return {"person": request.user, "key": posted_key(request), "at": timezone.now()}


def _asked(request: ShopRequest, name: str) -> int | None:
    text = request.POST.get(name) or request.GET.get(name, "")
    return posted_number(text) if text else None


def _back(request: ShopRequest, cut: Cut, words: str) -> HttpResponse:
    """Answer a tap: the same bar, or the next one when it is done."""
    messages.success(request, words)
    return _stay(request, plan=cut.plan_id, bar=cut.bar_id)


def _stay(request: ShopRequest, *, plan: int | None = None, bar: int | None = None) -> HttpResponse:
    page = saw_page(
        request.user, at=timezone.now(), plan=plan or _asked(request, "plan"), bar=bar or _asked(request, "bar")
    )
    if not request.htmx:
        return redirect(page.address)
    answer = _show(request, page)
    answer["HX-Push-Url"] = page.address
    return answer


def _again(request: ShopRequest, cut: Cut | None, trouble: ShopError, which: str) -> HttpResponse:
    """Show the page with what was typed and what to mend."""
    plan, bar = (cut.plan_id, cut.bar_id) if cut else (_asked(request, "plan"), _asked(request, "bar"))
    page = saw_page(request.user, at=timezone.now(), plan=plan, bar=bar)
    return _show(request, page, trouble=trouble, which=which)


def _show(request: ShopRequest, page: SawPage, *, trouble: ShopError | None = None, which: str = "") -> HttpResponse:
    context = {
        "page": page,
        "key": fresh_key(),
        "trouble": trouble,
        "which": which,
        "posted": request.POST,
        "person": request.user,
        "names": getattr(request, "names_on", ()),
        "shared": request.user.role_set == {Role.TABLET},
        "is_foreman": request.user.may(frozenset({Role.FOREMAN})),
    }
    name = "cutlists/saw/_work.html" if request.htmx else "cutlists/saw.html"
    return render(request, name, context, status=trouble.status if trouble else 200)


urlpatterns = [
    path("saw/", saw, name="saw"),
    path("saw/news/", news, name="saw-news"),
    path("saw/cuts/<int:cut_id>/done/", cut_done, name="cut-done"),
    path("saw/cuts/<int:cut_id>/wrong/", cut_wrong, name="cut-wrong"),
    path("saw/cuts/<int:cut_id>/skip/", cut_skip, name="cut-skip"),
    path("saw/cuts/<int:cut_id>/out/", cut_out, name="cut-out"),
    path("saw/cuts/<int:cut_id>/undo/", cut_undo, name="cut-undo"),
    path("saw/cuts/<int:cut_id>/label.pdf", cut_label, name="cut-label"),
    path("saw/bars/<int:bar_id>/start/", bar_start, name="bar-start"),
    path("saw/bars/<int:bar_id>/short/", short, name="bar-short"),
    path("saw/bars/<int:bar_id>/save/", save, name="cut-from"),
    path("saw/elbows/<int:piece_id>/done/", elbow_done, name="elbow-done"),
]
