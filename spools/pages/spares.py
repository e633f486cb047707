"""Can it be saved? Whole spools that came back, and the open tie-ins they could still serve."""

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone

from spools.flow.roles import Role
from spools.pages.asking import ShopRequest
from spools.queries.spares import spares

LEGS_WHO = frozenset({Role.CUTTER, Role.FOREMAN, Role.MANAGER})


def spares_page(request: ShopRequest) -> HttpResponse:
    """List the spares with their best places."""
    context = {"spares": spares(request.user, at=timezone.now()), "may_legs": request.user.may(LEGS_WHO)}
    return render(request, "spools/spares.html", context)


urlpatterns = [path("spares/", spares_page, name="spares")]
