"""Bars in the stock room."""

from typing import Any

from cutlists.actions.receive_bars import receive_bars
from cutlists.models import StockBar
from spools.flow.roles import Role
from spools.models import Shop
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key

SINGLE_MM = 21 * 304.8


def make_bars(shop: Shop, count: int = 2, length_mm: float = SINGLE_MM, **fields: Any) -> list[StockBar]:
    """Receive some bars of NPS 6 Sch 40."""
    cutter = shop.people.filter(username="stockhand").first() or make_person(shop, Role.CUTTER, name="Stockhand")
    values = {
        "nps": "6",
        "schedule": "40",
        "material": "A53 B",
        "lengths_mm": [length_mm] * count,
        "nominal_mm": length_mm,
        "heat": "7K2214",
        "person": cutter,
        "key": make_key(),
        "at": NOON,
    } | fields
    return receive_bars(**values)
