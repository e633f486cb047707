"""Whose word it is: what one person kept on a phone is not sent under the name of another without a person's yes."""

from django.db.models import Model, QuerySet
from rest_framework.request import Request

from spools.api.permissions import caller
from spools.errors import ShopError


def same_person(request: Request, by: str | None, *, did: str, here: "QuerySet[Model]") -> None:
    """Refuse what somebody else kept: it waits on the phone until they, or a person's yes, send it.

    ``by`` is the user name it was kept under, ``did`` what they did in the passive, ``here`` finds it among what the
    shop has already: that is nobody's to decide any more, and its sender is told so.
    """
    person = caller(request)
    if not by or by == person.username or here.exists():
        return
    raise ShopError(
        "other_person",
        f"This was {did} by {by}; {person.short_name} is signed in.",
        f"Sign in as whoever {did} it, or send it under your own name.",
        facts={"signed_in": person.username},
    )
