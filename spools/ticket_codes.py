"""The short codes on paper: which build, and perhaps which piece, a scanned or typed code means."""

import re
from dataclasses import dataclass

_CODE = re.compile(r"(?:^|/S/)S(\d{1,18})-([A-Z]{1,3})(?:-([A-Z0-9]{1,4}))?/?$")


@dataclass(frozen=True, slots=True)
class TicketCode:
    """What a ticket's code says: ``S12-B-A`` is spool 12, build B, piece A."""

    spool_id: int
    letter: str
    piece: str = ""


def read_ticket(text: str) -> TicketCode | None:
    """Return what a code says, bare or in the address that the camera reads; None for anything else.

    >>> read_ticket("https://shop.example/s/s12-b-a")
    TicketCode(spool_id=12, letter='B', piece='A')
    >>> read_ticket("214") is None
    True
    """
    read = _CODE.search(text.strip().upper())
    return TicketCode(int(read[1]), read[2], read[3] or "") if read else None
