"""What is said of every sheet: shop, job, when, by whom, which build; and the codes that open it again."""

from dataclasses import dataclass
from datetime import datetime

from django.conf import settings

from cutlists.papers.kept import kept_codes
from cutlists.sheets import Heading
from cutlists.sheets.qr import Code, encode
from spools.models import Job, Person, Shop, Spool
from spools.queries.spool import scan_code


@dataclass(frozen=True, slots=True)
class Printing:
    """Who prints, and when."""

    person: Person
    at: datetime


def shop_clock(at: datetime | None, shop: Shop) -> str:
    """Return a moment on the shop's clock, as sheets write it."""
    return f"{at.astimezone(shop.zone):%a %-d %b %H:%M}" if at else ""


def heading_for(printing: Printing, *, shop: Shop, job: Job | None = None, revision: str = "") -> Heading:
    """Return the heading of a sheet of one job, or of the whole shop."""
    units = job.units if job else "us"
    return Heading(
        shop=shop.name,
        job=f"{job.number} {job.name}" if job else "",
        printed_at=f"{printing.at.astimezone(shop.zone):%a %-d %b %Y %H:%M}",
        printed_by=printing.person.short_name,
        revision=revision,
        units="metric" if units == "metric" else "us",
        tape=job.graduation if job else "1/16",
    )


def spool_heading(printing: Printing, spool: Spool) -> Heading:
    """Return the heading of a sheet of one spool, with its build's letter."""
    return heading_for(printing, shop=spool.shop, job=spool.tie_in.job, revision=spool.letter)


def bar_code(tag: str) -> Code:
    """Return the code of a bar's or a drop's tag: it opens the bar in the stock room."""
    address = f"{settings.PUBLIC_ADDRESS}/B/{tag}".upper()
    return Code(address=address, typed=tag, matrix=encode(address))


def spool_code(spool: Spool, piece: str = "") -> Code:
    """Return the code of a spool's paper, or of one piece's ticket; its matrix is encoded once and kept."""
    typed = _typed(spool, piece)
    kept = kept_codes(spool, _address(scan_code(spool)), lambda: _matrices(spool))
    return Code(address=_address(typed), typed=typed, matrix=kept.get(typed) or encode(_address(typed)))


def _matrices(spool: Spool) -> dict[str, str]:
    typed = [_typed(spool, mark) for mark in ("", *(piece.mark for piece in spool.pieces.all()))]
    return {text: encode(_address(text)) for text in typed}


def _typed(spool: Spool, piece: str) -> str:
    return f"{scan_code(spool)}-{piece}" if piece else scan_code(spool)


def _address(typed: str) -> str:
    return f"{settings.PUBLIC_ADDRESS}/S/{typed}".upper()
