"""Steel tags: the nail, batches to stamp, tags to retire, and which spool has lost its tag."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.stamp_tags import WHO, retire_tag, stamp_tags
from spools.errors import ShopError, invalid
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.queries.tags import batches_of, lost_by_tape, nail_of, sizes_built
from spools.typed_fields import TypedFields

MOST_BATCHES = 20


def tags(request: ShopRequest) -> HttpResponse:
    """Show the stock of tags."""
    return _page(request)


@require_POST
def tag_stamp(request: ShopRequest) -> HttpResponse:
    """Put a batch on the list to stamp."""
    text = request.POST.get("count", "").strip()
    try:
        count = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
        batch = stamp_tags(count=count, person=request.user, key=posted_key(request), at=timezone.now())
    except ShopError as trouble:
        return _page(request, trouble=trouble)
    messages.success(request, f"{batch}: {count} tags to stamp. Print its list.")
    return redirect("tags")


@require_POST
def tag_retire(request: ShopRequest) -> HttpResponse:
    """Retire one tag."""
    posted = request.POST
    try:
        tag = retire_tag(
            number=posted.get("number", ""), reason=posted.get("reason", ""), person=request.user, at=timezone.now()
        )
    except ShopError as trouble:
        return _page(request, trouble=trouble)
    messages.success(request, f"Tag {tag} is retired.")
    return redirect("tags")


def tag_lost(request: ShopRequest) -> HttpResponse:
    """Find the spool that has lost its tag."""
    asked = request.GET
    context = {"sizes": sizes_built(request.user), "asked": asked, "found": None, "trouble": None, "units": "us"}
    if "nps" not in asked:
        return render(request, "spools/tag_lost.html", context)
    try:
        fields = TypedFields("us")
        leg_mm = fields.needed("leg", asked.get("leg", ""), "Tape the longer leg, such as 2' 8\".")
        check_mm = fields.needed("check", asked.get("check", ""), "Tape end to end from the hook, such as 4' 0-1/8\".")
        if fields.trouble:
            raise invalid(fields.trouble)
    except ShopError as trouble:
        return render(request, "spools/tag_lost.html", context | {"trouble": trouble}, status=trouble.status)
    found = lost_by_tape(request.user, nps=asked["nps"][:8], longer_leg_mm=leg_mm, check_mm=check_mm)
    return render(request, "spools/tag_lost.html", context | {"found": found})


def _page(request: ShopRequest, *, trouble: ShopError | None = None) -> HttpResponse:
    context = {
        "nail": nail_of(request.user),
        "batches": batches_of(request.user)[:MOST_BATCHES],
        "may_stamp": request.user.may(WHO),
        "key": fresh_key(),
        "trouble": trouble,
        "posted": request.POST,
    }
    return render(request, "spools/tags.html", context, status=trouble.status if trouble else 200)


urlpatterns = [
    path("tags/", tags, name="tags"),
    path("tags/stamp/", tag_stamp, name="tag-stamp"),
    path("tags/retire/", tag_retire, name="tag-retire"),
    path("tags/lost/", tag_lost, name="tag-lost"),
]
