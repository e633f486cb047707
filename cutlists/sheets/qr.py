"""QR codes: encoded once, kept as short text with the spool, drawn as one filled path of merged runs."""

from dataclasses import dataclass

import segno

QUIET_MODULES = 4  # clear space that the standard (ISO/IEC 18004) wants around the code


@dataclass(frozen=True, slots=True)
class Code:
    """What a QR code says: the address it opens, a short text to type instead, its stored matrix if there is one."""

    address: str
    typed: str
    matrix: str = ""


def encode(address: str) -> str:
    """Return the matrix of an address as text to store: the side, a colon, the rows as hexadecimal digits.

    Upper case stays in the alphanumeric mode, which gives the highest error correction at the same size.
    """
    code = segno.make(address.upper(), error="q", boost_error=True, micro=False)
    side = len(code.matrix)
    bits = "".join("1" if module else "0" for row in code.matrix for module in row)
    return f"{side}:{int(bits, 2):0{(side * side + 3) // 4}x}"


def runs(matrix: str) -> tuple[int, list[tuple[int, int, int]]]:
    """Return the side in modules and the dark runs as (row from the top, first column, length)."""
    side_text, _, digits = matrix.partition(":")
    side = int(side_text)
    bits = f"{int(digits, 16):0{side * side}b}"
    found = []
    for row in range(side):
        line = bits[row * side : (row + 1) * side]
        start = line.find("1")
        while start >= 0:
            end = line.find("0", start)
            end = side if end < 0 else end
            found.append((row, start, end - start))
            start = line.find("1", end)
    return side, found


def path(matrix: str, *, x: float, y: float, size: float) -> str:
    """Return the PDF operators that fill the code, its lower left corner at x, y, in whatever unit the page uses.

    The quiet zone is not part of ``size``: leave ``QUIET_MODULES`` of clear paper around it.
    """
    side, dark = runs(matrix)
    rows = [f"{column} {side - 1 - row} {length} 1 re" for row, column, length in dark]
    module = size / side
    return f"q {module:.5f} 0 0 {module:.5f} {x:.3f} {y:.3f} cm {' '.join(rows)} f Q"
