"""Find the demo's shop in a database, and say how far its month was played."""

from datetime import datetime

from cutlists.demo.scenario import SHOP
from spools.models import Event, Shop
from spools.shop_calendar import calendar_of


def demo_shop() -> Shop | None:
    """Return the demo's shop, if it was made here."""
    return Shop.objects.filter(name=SHOP).first()


def played_to(shop: Shop) -> datetime:
    """Return the end of the last shift that was played."""
    newest = Event.objects.filter(key__startswith=f"demo-{shop.id}-").order_by("-received_at").first()
    assert newest is not None  # noqa: S101  the month is played in the same transaction that makes the shop
    calendar = calendar_of(shop)
    return calendar.last_end(calendar.local(newest.received_at).date())


def other_shops() -> list[str]:
    """Return the names of the shops that are not the demo's: these are never thrown away."""
    return list(Shop.objects.exclude(name=SHOP).values_list("name", flat=True))
