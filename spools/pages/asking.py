"""The request as our pages see it: somebody of a shop is signed in; and the few things every page reads from it."""

import uuid

from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.middleware import HtmxDetails

from spools.errors import invalid, not_found
from spools.models import Person


class ShopRequest(HttpRequest):
    """A request behind the access table: its user is a person of a shop."""

    user: Person
    htmx: HtmxDetails


def posted_key(request: HttpRequest) -> str:
    """Return the caller's own key of this tap. Raises ``ShopError`` invalid."""
    key = request.POST.get("key", "")
    if not 8 <= len(key) <= 60 or not key.isascii() or not key.isprintable():
        raise invalid({"key": "Load the page again."}, "The tap has no key.")
    return key


def posted_number(text: str) -> int:
    """Return a row's number from a form or an address. Raises ``ShopError`` not_found."""
    if not text.isascii() or not text.isdigit() or len(text) > 18:
        raise not_found("thing of that number")
    return int(text)


def posted_numbers(texts: list[str]) -> list[int]:
    """Return several rows' numbers."""
    return [posted_number(text) for text in texts[:1000]]


def fresh_key() -> str:
    """Return a new key for a form."""
    return str(uuid.uuid4())


def back_to(request: HttpRequest, otherwise: str) -> str:
    """Return the page of ours that the form wants to go back to, or the other one."""
    wanted = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) and wanted.startswith("/"):
        return wanted
    return otherwise
