"""A job with its main and tie-ins."""

from itertools import count
from typing import Any

from spools.marks import mark_key
from spools.models import Job, Main, Shop, TieIn

_numbers = count(1)


def make_job(shop: Shop, **fields: Any) -> Job:
    """An open job in feet and inches that goes to coating."""
    values = {"number": f"J{next(_numbers):03d}", "name": "Stormwater gallery"} | fields
    return Job.objects.create(shop=shop, **values)


def make_tie_in(job: Job, mark: str = "214", **fields: Any) -> TieIn:
    """An NPS 6 tie-in, beveled at the main and grooved at the drain."""
    main = Main.objects.filter(job=job).first() or Main.objects.create(job=job, name="East gallery", nps="24")
    values = {"station_mm": 304.8 * 1240, "side": "left", "nps": "6", "schedule": "40"} | fields
    return TieIn.objects.create(job=job, main=main, mark=mark, mark_key=mark_key(mark), **values)
