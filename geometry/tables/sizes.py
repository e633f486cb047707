"""The nominal pipe sizes of the trade, and the ways people write them."""

import re
from fractions import Fraction
from functools import cache

from geometry.lengths import LengthError, parse_length
from geometry.tables.rows import read_rows


class UnknownPipe(ValueError):
    """A size, schedule or fitting that no table here has; the message names what there is."""


def pipe_sizes() -> tuple[str, ...]:
    """Return the nominal sizes (NPS) in rising order, as the trade writes them.

    >>> pipe_sizes()[:5]
    ('1/2', '3/4', '1', '1-1/4', '1-1/2')
    """
    return tuple(_DN_BY_NPS)


def nominal_size(written: str) -> str:
    """Return the NPS as the tables write it.

    >>> nominal_size("1 1/2"), nominal_size('NPS 4"'), nominal_size("DN 100"), nominal_size("2.5")
    ('1-1/2', '4', '4', '2-1/2')

    Raises UnknownPipe, which names the sizes there are.
    """
    plain = str(written).strip().lower().removeprefix("nps").strip()
    metric = re.fullmatch(r"dn ?([0-9]+)", plain)
    size = _NPS_BY_DN.get(metric[1]) if metric else _by_inches(plain)
    if size is None and plain.startswith("od"):
        raise UnknownPipe(
            f"{written} is no nominal size: no table has a fitting, groove or thread for it. Miter it, and leave its "
            "ends plain or beveled."
        )
    if size is None:
        raise UnknownPipe(f'No pipe size "{written}": choose NPS {", ".join(pipe_sizes())}.')
    return size


def _by_inches(plain: str) -> str | None:
    if plain in _DN_BY_NPS:
        return plain
    try:
        inches = parse_length(plain).mm / 25.4
    except LengthError:
        return None
    return next((nps for nps in _DN_BY_NPS if abs(nps_inches(nps) - inches) < 1e-9), None)


@cache
def nps_inches(nps: str) -> float:
    """Return a nominal size as a number of inches, to compare sizes: it is no dimension of the pipe.

    >>> nps_inches("2-1/2"), nps_inches("OD 5.25")
    (2.5, 5.25)
    """
    if nps.startswith("OD"):
        return float(nps[2:])
    return float(sum(Fraction(part) for part in nps.split("-")))


def _sizes() -> dict[str, str]:
    known = {row["nps"]: row["dn"] for row in read_rows("pipe")}
    return dict(sorted(known.items(), key=lambda size: nps_inches(size[0])))


_DN_BY_NPS = _sizes()
_NPS_BY_DN = {dn: nps for nps, dn in _DN_BY_NPS.items()}
