"""The first address: each person goes to the page their role lives on."""

from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect

from fabshop.navigation import HOME_OF
from spools.flow.roles import Role
from spools.pages.asking import ShopRequest


def home(request: ShopRequest) -> HttpResponse:
    """Send a person to the page of the first of their roles; whoever has none is told so."""
    role = next((role for role in Role if role in request.user.role_set), None)
    if role is None:
        raise PermissionDenied
    return redirect(HOME_OF[role])
