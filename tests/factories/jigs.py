"""Jigs with their set points."""

from datetime import UTC, datetime
from typing import Any

from spools.models import Jig, SetPoints, Shop


def make_set_points(shop: Shop, serial: str = "J1", **fields: Any) -> SetPoints:
    """A jig whose set point is 4 in on both sides, read with 4 in burned."""
    jig, _ = Jig.objects.get_or_create(shop=shop, serial=serial)
    values = {
        "version": 1,
        "valid_from": datetime(2026, 1, 1, tzinfo=UTC),
        "set_point_a_mm": 101.6,
        "set_point_b_mm": 101.6,
    } | fields
    return SetPoints.objects.create(jig=jig, **values)
