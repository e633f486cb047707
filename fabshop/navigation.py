"""The few links each role sees at the top of every page, and the page each role lives on."""

from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from fabshop.access import TABLE
from spools.flow.roles import Role

LINKS: tuple[tuple[str, str], ...] = (
    ("floor", "Floor"),
    ("saw", "Saw"),
    ("bench", "Bench"),
    ("field", "Field"),
    ("loads", "Loads"),
    ("promise", "Promise"),
    ("jobs", "Jobs"),
    ("papers", "Papers"),
    ("stock", "Stock"),
    ("notices", "For you"),
    ("setup", "Set-up"),
)
HOME_OF: dict[Role, str] = {
    Role.FOREMAN: "floor",
    Role.CUTTER: "saw",
    Role.FITTER: "bench",
    Role.FIELD: "field",
    Role.DRIVER: "loads",
    Role.MANAGER: "promise",
    Role.TABLET: "bench",
}


def navigation(request: HttpRequest) -> dict[str, Any]:
    """Return the links that the signed-in person's roles may open (a context processor)."""
    person = getattr(request, "user", None)
    if person is None or not person.is_authenticated:
        return {"nav": []}
    here = request.resolver_match.view_name if request.resolver_match else ""
    links = [(words, reverse(name), name == here) for name, words in LINKS if person.may(TABLE[name])]
    return {"nav": links, "shop": person.shop}
