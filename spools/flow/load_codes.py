"""The short code of a load's link: which load, which link of it, and proof that this shop made it; never guessed."""

import base64
import hashlib
import hmac
import re
from dataclasses import dataclass

PROOF_LETTERS = 16  # 80 bits of a keyed hash
_CODE = re.compile(rf"^(\d{{1,12}})-(\d{{1,4}})-([A-Z2-7]{{{PROOF_LETTERS}}})$")


@dataclass(frozen=True, slots=True)
class LinkCode:
    """A code that proved good: the load's row and which of its links."""

    load_id: int
    version: int


def write_code(load_id: int, version: int, *, secret: str) -> str:
    """Return the code: digits and capitals only, which keeps its QR code small.

    >>> read_code(write_code(12, 1, secret="s"), secret="s")
    LinkCode(load_id=12, version=1)
    """
    return f"{load_id}-{version}-{_proof(load_id, version, secret)}"


def read_code(text: str, *, secret: str) -> LinkCode | None:
    """Return what a code says, or nothing where its proof isn't ours.

    >>> read_code("12-1-AAAAAAAAAAAAAAAA", secret="s")
    """
    found = _CODE.match(text.strip().upper())
    if found is None:
        return None
    code = LinkCode(int(found[1]), int(found[2]))
    good = hmac.compare_digest(found[3], _proof(code.load_id, code.version, secret))
    return code if good else None


def _proof(load_id: int, version: int, secret: str) -> str:
    told = f"load-link:{load_id}:{version}".encode()
    digest = hmac.new(secret.encode(), told, hashlib.sha256).digest()
    return base64.b32encode(digest).decode()[:PROOF_LETTERS]
