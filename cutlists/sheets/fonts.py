"""The two weights of the shop's typeface, and text made fit for print: known glyphs only, no controls, capped."""

from functools import cache, lru_cache
from pathlib import Path
from unicodedata import category, combining, normalize

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

MM = 72 / 25.4  # points in a millimeter
CAP_HEIGHT = 0.7  # height of a capital letter as a part of the font size, from the font's own table
DESCENT = 0.2  # what hangs below the baseline, as a part of the font size
LONGEST_TEXT = 400  # characters of one printed string; more is noise on a shop's paper
UNKNOWN = "?"  # printed for a character that the typeface doesn't hold

TEXT, FIGURE = "Barlow-500", "Barlow-600"
WEIGHTS = {500: TEXT, 600: FIGURE}

_HANGING, _HANGS = frozenset("gjpqyQ,;()[]{}@|/\\_ç"), 0.3  # what goes below the line, and how far
_ABOVE, _ACCENTED = 230, 1.32  # Unicode's class of marks above; the highest accented capital of the typeface
_FOLDER = Path(__file__).parents[2] / "fabshop" / "static" / "vendor" / "barlow-semi-condensed-5.3.0"
_SPACES = {"Zs", "Zl", "Zp", "Cc"}
_SILENT = {"Cf", "Cs", "Co", "Cn"}  # direction marks and the like: nothing to see


@cache
def load_fonts() -> None:
    """Register the fonts once for this process."""
    for weight, name in WEIGHTS.items():
        font = TTFont(name, str(_FOLDER / f"barlow-semi-condensed-{weight}.ttf"), shapable=False)
        pdfmetrics.registerFont(font)


@cache
def _glyphs() -> frozenset[int]:
    load_fonts()
    return frozenset.intersection(*(frozenset(pdfmetrics.getFont(n).face.charToGlyph) for n in WEIGHTS.values()))


@lru_cache(maxsize=2048)
def printable(text: str) -> str:
    """Return the text as it can be printed: one line, composed, without controls, unknown glyphs as ``?``."""
    known = _glyphs()
    out = []
    for character in normalize("NFC", text[: 4 * LONGEST_TEXT]):
        kind = category(character)
        if kind in _SPACES:
            out.append(" ")
        elif kind not in _SILENT:
            out.append(character if ord(character) in known else UNKNOWN)
    line = " ".join("".join(out).split())
    return line if len(line) <= LONGEST_TEXT else line[: LONGEST_TEXT - 1] + "…"


@lru_cache(maxsize=2048)
def rise(text: str) -> float:
    """Return how high a text stands, in heights of its capitals: more than 1 where a capital carries an accent."""
    above = any(combining(mark) == _ABOVE for mark in normalize("NFD", text[:LONGEST_TEXT]))
    return _ACCENTED if above else 1.0


def fall(text: str) -> float:
    """Return how far a text hangs below its line, in heights of its capitals: 0 for figures and capitals."""
    return _HANGS if _HANGING & set(text[:LONGEST_TEXT]) else 0.0


@lru_cache(maxsize=2048)
def width_mm(text: str, font: str, size_mm: float) -> float:
    """Return how wide a printable text is."""
    load_fonts()
    return float(pdfmetrics.stringWidth(text, font, 1000.0)) * size_mm / 1000


@lru_cache(maxsize=2048)
def fit(text: str, *, font: str, size_mm: float, room_mm: float, smallest_mm: float) -> tuple[str, float]:
    """Return the text and the size at which it fits the room: shrunk first, then cut with an ellipsis."""
    text = printable(text)
    wide = width_mm(text, font, size_mm)
    if wide <= room_mm:
        return text, size_mm
    size = max(smallest_mm, size_mm * room_mm / wide)
    if width_mm(text, font, size) <= room_mm + 1e-6:
        return text, size
    low, high = 0, len(text)
    while low < high:  # the longest beginning that still leaves room for the ellipsis
        middle = (low + high + 1) // 2
        low, high = (middle, high) if width_mm(text[:middle] + "…", font, size) <= room_mm else (low, middle - 1)
    return text[:low].rstrip() + "…", size


def wrap(text: str, *, font: str, size_mm: float, room_mm: float, most_lines: int) -> tuple[str, ...]:
    """Return the text broken at blanks into lines that fit the room; a word too long is cut, the last line ends in …"""
    lines: list[str] = []
    line = ""
    for word in printable(text).split(" "):
        longer = f"{line} {word}".strip()
        if line and width_mm(longer, font, size_mm) > room_mm:
            lines.append(line)
            line = word
        else:
            line = longer
    lines.append(line)
    if len(lines) > most_lines:
        lines = [*lines[: most_lines - 1], " ".join(lines[most_lines - 1 :])]
    return tuple(fit(one, font=font, size_mm=size_mm, room_mm=room_mm, smallest_mm=size_mm)[0] for one in lines)
