"""Who may use the API: people of a shop. What they may do there, each deed checks itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rest_framework.exceptions import NotAuthenticated
from rest_framework.permissions import BasePermission

from spools.models import Person

if TYPE_CHECKING:
    from rest_framework.request import Request
    from rest_framework.views import APIView


class OfAShop(BasePermission):
    """Signed in, and of a shop."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Tell whether the caller may come in at all."""
        user = request.user
        return bool(user and user.is_authenticated and user.shop_id)


def caller(request: Request) -> Person:
    """Return who is asking. Raises ``NotAuthenticated`` when nobody is signed in."""
    if not isinstance(request.user, Person):
        raise NotAuthenticated
    return request.user
