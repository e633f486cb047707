"""The link of a load: its address for whoever counts without an account, and the load that such a code opens."""

from datetime import datetime

from django.conf import settings
from django.urls import reverse

from spools.errors import ShopError
from spools.flow.load_codes import read_code, write_code
from spools.models import Load


def link_code(load: Load) -> str:
    """Return the code of a load's present link."""
    return write_code(load.id, load.link_version, secret=settings.SECRET_KEY)


def link_path(load: Load) -> str:
    """Return the path that opens a load's link."""
    return reverse("load-link", args=[link_code(load)])


def printed_address(load: Load) -> str:
    """Return what a load's QR code opens: upper case keeps the code small."""
    return f"{settings.PUBLIC_ADDRESS}/L/{link_code(load)}".upper()


def load_of_link(text: str, *, at: datetime) -> Load:
    """Return the load that a code opens. Raises ``ShopError``: link_unknown, link_ended."""
    code = read_code(text, secret=settings.SECRET_KEY)
    found = Load.objects.select_related("shop", "made_by").filter(id=code.load_id).first() if code else None
    if code is None or found is None:
        raise ShopError(
            "link_unknown", "This link opens no load.", "Scan the code on the load sheet once more.", status=404
        )
    if code.version != found.link_version or found.link_until is None or at > found.link_until:
        raise ShopError(
            "link_ended",
            f"The link of load {found.number} has ended.",
            f"Ask {found.shop.name} for a new load sheet; the count on paper is as good.",
            status=410,
        )
    return found
