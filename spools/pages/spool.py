"""One spool: where it stands, what to do next, its drawing, pieces and story."""

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.acceptance import print_included_deg
from spools.actions.record_step import Tap
from spools.actions.record_with_tag import record_with_tag
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, not_found
from spools.flow.asking import WANTS
from spools.flow.defects import BACK_TO, DEFECTS
from spools.flow.roles import Role
from spools.flow.steps import BY_CODE, DEED_BY_CODE, STEPS, say
from spools.laid_out import read_laid_out, say_turns
from spools.models import Bench, Heat, Spool
from spools.pages.asking import ShopRequest, back_to, fresh_key, posted_key, posted_number
from spools.pages.paper_stops import paper_stopped
from spools.pages.spool_deeds import DEEDS, reason_of
from spools.pages.typed_checks import typed_check_mm, typed_included_deg
from spools.queries.fit import fit_of
from spools.queries.old_paper import old_paper_of
from spools.queries.pipe_specs import BENDS
from spools.queries.reading import findings_of
from spools.queries.spool import offers_of, one_spool, story_of, track_of
from spools.queries.spool_drawing import drawing_svg, isometric_svg
from spools.queries.spool_solid import hand_words, solid_values
from spools.queries.told_twice import told_of
from spools.queries.welds import flange_welds_of, makers_of, measured_of, people_of, welders_among, welds_of
from spools.queries.where import say_where, whose_move
from spools.ticket_codes import read_ticket


def spool_page(request: ShopRequest, spool_id: int) -> HttpResponse:
    """Show one spool."""
    return _page(request, one_spool(spool_id, request.user))


def solid(request: ShopRequest, spool_id: int) -> JsonResponse:
    """Give the spool in space, for the page to draw and turn; a build never changes."""
    answer = JsonResponse(solid_values(one_spool(spool_id, request.user)))
    answer["Cache-Control"] = "private, max-age=3600"
    return answer


def scan(request: ShopRequest, code: str) -> HttpResponse:
    """Open the spool of a scanned or typed code; old paper answers. A step posted here is recorded by that code."""
    read = read_ticket(code)
    if not read:
        raise not_found("spool with that code")
    spool = one_spool(read.spool_id, request.user)
    if spool.letter != read.letter:
        raise not_found("paper with that code")
    if request.method == "POST":
        return step(request, spool.id)
    paper_stopped(spool, request.user, at=timezone.now(), where="scanned")
    return _page(request, spool)


@require_POST
def step(request: ShopRequest, spool_id: int) -> HttpResponse:
    """Record a step tapped on the page."""
    posted = request.POST
    spool = one_spool(spool_id, request.user)
    try:
        recorded = record_with_tag(
            spool_id=spool_id,
            step=posted.get("step", ""),
            person=request.user,
            key=posted_key(request),
            at=timezone.now(),
            tap=_tap(request, spool),
            tag=posted.get("tag", ""),
        )
    except ShopError as trouble:
        return _page(request, spool, trouble=trouble)
    said = recorded.words or say(recorded.event.code)
    messages.success(request, f"{spool.label}: {said}.")
    return redirect(back_to(request, reverse("spool", args=[spool_id])))


@require_POST
def deed(request: ShopRequest, spool_id: int) -> HttpResponse:
    """Do one of the deeds beside the route."""
    spool = one_spool(spool_id, request.user)
    doing = DEEDS.get(request.POST.get("deed", ""))
    if doing is None:
        raise not_found("deed of that name")
    try:
        doing(
            request,
            spool,
            {"spool_id": spool_id, "person": request.user, "key": posted_key(request), "at": timezone.now()},
        )
    except ShopError as trouble:
        return _page(request, spool, trouble=trouble)
    messages.success(request, f"{spool.label}: {_said(request.POST['deed'])}.")
    return redirect(back_to(request, reverse("spool", args=[spool_id])))


def _said(deed: str) -> str:
    return "sorted out" if deed == "told" else say(deed)


@require_POST
def undo(request: ShopRequest, spool_id: int) -> HttpResponse:
    """Undo one event."""
    spool = one_spool(spool_id, request.user)
    try:
        undo_event(
            spool_id=spool_id,
            number=posted_number(request.POST.get("number", "")),
            person=request.user,
            key=posted_key(request),
            at=timezone.now(),
            reason=reason_of(request),
            also=request.POST.get("also") == "yes",
        )
    except ShopError as trouble:
        return _page(request, spool, trouble=trouble)
    messages.success(request, f"{spool.label}: undone.")
    return redirect("spool", spool_id)


def spool_trouble(request: ShopRequest, spool_id: int, trouble: ShopError) -> HttpResponse:
    """Show one spool with why something about it was refused, and what was typed."""
    return _page(request, one_spool(spool_id, request.user), trouble=trouble)


def _page(
    request: ShopRequest,
    spool: Spool,
    *,
    trouble: ShopError | None = None,
) -> HttpResponse:
    story = story_of(spool)
    people = people_of(spool)
    line = read_laid_out(spool.reading.line)
    stands = [line.event for line in story if not line.was_undone]
    made = makers_of(spool, stands)
    own = [BY_CODE[code] for code, makers in made.items() if request.user.id in makers]
    may = {deed.code for deed in DEED_BY_CODE.values() if request.user.may(deed.who)}
    may -= {"rejected"} if own else set()
    last = next((line.event for line in story if not line.was_undone and line.event.code != "undone"), None)
    context = {
        "spool": spool,
        "units": spool.tie_in.job.units,
        "track": track_of(spool),
        "story": story,
        "offers": offers_of(spool, request.user),
        "where": say_where(spool, last=last, at=timezone.now()),
        "whose_move": whose_move(spool),
        "drawing": drawing_svg(spool),
        "isometric": isometric_svg(spool),
        "made_by": BENDS[spool.bend_kind],
        "laid_out": line,
        "turns": say_turns(line) if line else "",
        "hand_words": hand_words(spool),
        "findings": findings_of(spool.reading),
        "fit": fit_of(spool) if spool.live else None,
        "holds": spool.the_standing.holds,
        "told": told_of(spool, stands),
        "benches": Bench.objects.filter(shop_id=spool.shop_id, is_active=True),
        "key": fresh_key(),
        "trouble": trouble,
        "posted": request.POST,
        "welds": welds_of(spool, stands, people),
        "flanges": flange_welds_of(spool, stands, people),
        "measured": measured_of(spool, stands),
        "own_welds": own,
        "done_steps": [step for step in STEPS if step.code in BACK_TO and spool.the_standing.done.get(step.code)],
        "defects": DEFECTS,
        "may": may,
        "wants": [(code, words) for code, words in WANTS.items() if code not in may],
        "print_included": print_included_deg(spool),
        "welders": welders_among(people) if spool.live else (),
        "tapped": request.POST.getlist("target"),
        "old": old_paper_of(spool),
        "is_foreman": request.user.may(frozenset({Role.FOREMAN})),
    }
    return render(request, "spools/spool.html", context, status=trouble.status if trouble else 200)


def _tap(request: ShopRequest, spool: Spool) -> Tap:
    posted = request.POST
    return Tap(
        targets=tuple(posted.getlist("target")),
        bench_id=_bench(posted.get("bench", ""), spool),
        heats=_heats(posted.get("heat", ""), spool),
        check_mm=typed_check_mm(posted.get("check", "").strip(), spool.tie_in.job.units),
        included_deg=typed_included_deg(posted.get("included", "")),
        procedure=posted.get("procedure", "")[:30],
        already=posted.get("already") == "yes",
        reason=posted.get("reason", "").strip()[:300],
    )


def _bench(text: str, spool: Spool) -> int | None:
    if not text:
        return None
    bench = Bench.objects.filter(shop_id=spool.shop_id, id=posted_number(text)).first()
    if bench is None:
        raise not_found("bench of that name")
    return bench.id


def _heats(text: str, spool: Spool) -> dict[str, int]:
    number = text.strip().upper()[:30]
    if not number:
        return {}
    heat, _ = Heat.objects.get_or_create(shop_id=spool.shop_id, number=number)
    return dict.fromkeys(spool.the_route.sawn(), heat.id)


urlpatterns = [
    path("spools/<int:spool_id>/", spool_page, name="spool"),
    path("spools/<int:spool_id>/solid.json", solid, name="spool-solid"),
    path("spools/<int:spool_id>/step/", step, name="step"),
    path("spools/<int:spool_id>/deed/", deed, name="deed"),
    path("spools/<int:spool_id>/undo/", undo, name="undo"),
    path("s/<str:code>/", scan, name="scan"),
    path("S/<str:code>", scan, name="scan-printed"),  # as tickets print it: upper case keeps the code small
]
