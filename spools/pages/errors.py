"""Refusals as pages: the words, what to do, and the way back; nothing typed is lost because forms answer themselves."""

from collections.abc import Callable

from django.db import InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from spools.errors import ShopError, busy


class ShopErrorMiddleware:
    """Turn a ``ShopError`` that no form answered into a page, and a database that is away into a 503."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, trouble: Exception) -> HttpResponse | None:
        """Answer a refusal in words."""
        if isinstance(trouble, OperationalError | InterfaceError):
            trouble = busy()
        if not isinstance(trouble, ShopError):
            return None
        return refusal(request, trouble)


def refusal(request: HttpRequest, trouble: ShopError) -> HttpResponse:
    """Render a refusal: a strip for an htmx tap, a page otherwise."""
    name = "partials/refusal.html" if getattr(request, "htmx", False) else "refusal.html"
    answer = render(request, name, {"trouble": trouble}, status=trouble.status)
    if getattr(request, "htmx", False):
        # htmx drops answers that are not 200 unless told where they go.
        answer["HX-Retarget"] = "#refusal"
        answer["HX-Reswap"] = "innerHTML"
    if trouble.status == 503:
        answer["Retry-After"] = "2"
    return answer
