"""The doubtful sweep: what a jig read while it was out of check, and the hold on all of it."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.hold_doubtful import hold_doubtful
from spools.flow.roles import Role
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.queries.doubtful import one_sweep, sweeps


def doubtful(request: ShopRequest) -> HttpResponse:
    """Show every failed check with the readings since the last good one, furthest along first."""
    context = {
        "sweeps": sweeps(request.user, at=timezone.now()),
        "shop": request.user.the_shop,
        "key": fresh_key(),
        "may_hold": request.user.may(frozenset({Role.FOREMAN})),
    }
    return render(request, "spools/doubtful.html", context)


@require_POST
def doubtful_hold(request: ShopRequest, check_id: int) -> HttpResponse:
    """Hold all that is not delivered and not held yet."""
    at = timezone.now()
    sweep = one_sweep(check_id, request.user, at=at)
    held = hold_doubtful(
        check=sweep.check, spool_ids=sweep.to_hold, person=request.user, key=posted_key(request), at=at
    )
    messages.success(request, f"{held} on hold until somebody measured again or let go.")
    return redirect("doubtful")


urlpatterns = [
    path("field/doubtful/", doubtful, name="doubtful"),
    path("field/doubtful/<int:check_id>/hold/", doubtful_hold, name="doubtful-hold"),
]
