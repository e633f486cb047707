"""One reading: what was typed, what the checks say, and the foreman's word on it."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.actions.lay_out import lay_out
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.laid_out import read_laid_out, say_made, say_turns
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.queries.further_checks import further_of_reading, say_further
from spools.queries.lay_outs import ways_to_lay_out
from spools.queries.machines import beyond_the_machines
from spools.queries.old_paper import old_paper_of
from spools.queries.reading import findings_of, older_build, reading_page
from spools.queries.second import pair_of


def reading(request: ShopRequest, reading_id: int, trouble: ShopError | None = None) -> HttpResponse:
    """Show one reading with its findings."""
    found = reading_page(reading_id, request.user)
    newest = found.tie_in.current_reading_id == found.id
    waits = newest and not found.spools.filter(live=True).exists()
    live = older_build(found) if waits else None
    line = read_laid_out(found.line)
    context = {
        "reading": found,
        "findings": findings_of(found),
        "pair": pair_of(found),
        "further": () if line else say_further(further_of_reading(found)),
        "key": fresh_key(),
        "waits": waits,
        "old": old_paper_of(live) if live else None,
        "may_release": request.user.may(frozenset({Role.FOREMAN})),
        "line": line,
        "turns": say_turns(line) if line else "",
        "made": say_made(line) if line else "",
        "ways": ways_to_lay_out(found) if newest else (),
        "trouble": trouble,
        "posted": request.POST,
        "beyond": beyond_the_machines(found, request.user) if waits else (),
    }
    return render(request, "spools/reading.html", context, status=trouble.status if trouble else 200)


def laid_out_so(request: ShopRequest, reading_id: int) -> HttpResponse:
    """Build a reading of two bends by the way that the foreman chose."""
    if request.method != "POST":
        return redirect("reading", reading_id)
    try:
        spool = lay_out(
            reading_id=reading_id,
            code=request.POST.get("way", ""),
            person=request.user,
            key=posted_key(request),
            at=timezone.now(),
            reason=request.POST.get("reason", "").strip()[:300],
            instead=request.POST.get("instead") == "yes",
        )
    except ShopError as trouble:
        if trouble.status == 404:
            raise
        return reading(request, reading_id, trouble)
    messages.success(request, f"{spool.label} is released with two bends.")
    return redirect("spool", spool.id)


urlpatterns = [
    path("readings/<int:reading_id>/", reading, name="reading"),
    path("readings/<int:reading_id>/lay-out/", laid_out_so, name="lay-out"),
]
