"""Each person's list of what concerns them."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.see_notices import see_notices
from spools.flow.roles import Role
from spools.pages.asking import ShopRequest, posted_number
from spools.pages.live import live
from spools.queries.bench_stops import stops_told
from spools.queries.notices import failed_jig_checks, notices_for
from spools.queries.obstacles import obstacles_of

OBSTACLES_FOR = frozenset({Role.FOREMAN})


@live
def notices(request: ShopRequest, *, polled: bool) -> HttpResponse:
    """Show what concerns the person, the newest first."""
    at = timezone.now()
    found = notices_for(request.user, at=at)
    context = {
        "at": at,
        "shop": request.user.the_shop,
        "notices": found,
        "new": sum(one.is_new for one in found),
        "newest": found[0].event.id if found else 0,
        "obstacles": obstacles_of(request.user) if request.user.may(OBSTACLES_FOR) else [],
        "jig_checks": failed_jig_checks(request.user, at=at),
        "stops": stops_told(request.user, at=at),
    }
    return render(request, "spools/notices/_live.html" if polled else "spools/notices.html", context)


@require_POST
def notices_seen(request: ShopRequest) -> HttpResponse:
    """Mark the list as read, as far as it was shown."""
    see_notices(person=request.user, up_to=posted_number(request.POST.get("up_to", "")))
    return redirect("notices")


urlpatterns = [
    path("notices/", notices, name="notices"),
    path("notices/seen/", notices_seen, name="notices-seen"),
]
