"""Reads a printed PDF back with another library: its words and their boxes, its lines, its QR codes, its pixels."""

import ctypes
import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from math import hypot
from typing import BinaryIO

import pypdfium2 as pdfium
import zxingcpp
from pypdfium2 import raw

from geometry.drawing.labels import Box
from geometry.lengths import parse_length

MM = 25.4 / 72
METRIC = re.compile(r"(?P<name>(?:[^ ]*[A-Z][^ ]* )*)(?P<figures>[0-9][0-9 ]*(?:[.][0-9]+)? mm)")
INCHES = re.compile(r"(?P<name>(?:[^ ]*[A-Za-z][^ ]*(?: |$))*)(?P<figures>(?:[0-9]+' ?)?[0-9]*)")


@dataclass(frozen=True, slots=True)
class Printed:
    """One printed string and the box of its ink, in mm from the page's lower left corner; ``quad`` if it is turned."""

    text: str
    left: float
    bottom: float
    right: float
    top: float
    quad: tuple[tuple[float, float], ...] = ()

    def overlaps(self, other: "Printed", slack: float = 0.05) -> bool:
        """Tell whether the two boxes share more than a hair's breadth."""
        if (
            min(self.right, other.right) - max(self.left, other.left) <= slack
            or min(self.top, other.top) - max(self.bottom, other.bottom) <= slack
        ):
            return False
        return Box(self._corners()).overlaps(Box(other._corners()), clear_mm=-slack)

    def _corners(self) -> tuple[tuple[float, float], ...]:
        upright = ((self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top))
        return self.quad or upright


def write(writer: Callable[..., int], *args: object, **kw: object) -> bytes:
    """Return the PDF that a writer makes."""
    out = io.BytesIO()
    writer(out, *args, **kw)
    return out.getvalue()


def open_pdf(data: bytes | BinaryIO) -> pdfium.PdfDocument:
    """Open a PDF from its bytes."""
    return pdfium.PdfDocument(data)


def printed(page: pdfium.PdfPage) -> list[Printed]:
    """Return every string on a page in the order drawn, those inside stamps included."""
    words = page.get_textpage()
    found = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=4):
        text = _text(item, words)
        if not text.strip():
            continue
        place = item.container.get_matrix().on_point if item.container is not None else lambda x, y: (x, y)
        quad = tuple((x * MM, y * MM) for x, y in (place(*corner) for corner in item.get_quad_points()))
        xs, ys = [x for x, _ in quad], [y for _, y in quad]
        found.append(Printed(text.strip(), min(xs), min(ys), max(xs), max(ys), quad))
    return found


def _text(item: pdfium.PdfObject, words: pdfium.PdfTextPage) -> str:
    size = raw.FPDFTextObj_GetText(item.raw, words.raw, None, 0)
    buffer = ctypes.create_string_buffer(size)
    raw.FPDFTextObj_GetText(item.raw, words.raw, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size)
    return buffer.raw[:size].decode("utf-16-le").partition("\0")[0]


def all_text(data: bytes) -> list[str]:
    """Return every string of a PDF, page after page."""
    return [item.text for page in open_pdf(data) for item in printed(page)]


def codes(page: pdfium.PdfPage, *, dpi: int = 150) -> list[str]:
    """Return what the QR codes of a page say, read from its picture."""
    picture = page.render(scale=dpi / 72, grayscale=True).to_numpy().squeeze()
    return [code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]


def straight_lines(page: pdfium.PdfPage) -> list[tuple[float, float, float, float]]:
    """Return every stroked line of two points, x1 y1 x2 y2 in mm on the page, from its vectors."""
    found = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=1):
        if raw.FPDFPath_CountSegments(item.raw) != 2:
            continue
        matrix = item.get_matrix()
        ends = [matrix.on_point(*_segment(item, at)) for at in range(2)]
        found.append(tuple(value * MM for end in ends for value in end))
    return found


def _segment(item: pdfium.PdfObject, at: int) -> tuple[float, float]:
    x, y = ctypes.c_float(), ctypes.c_float()
    segment = raw.FPDFPath_GetPathSegment(item.raw, at)
    raw.FPDFPathSegment_GetPoint(segment, x, y)
    return x.value, y.value


def lengths_on(words: list[Printed], *, units: str) -> list[float]:
    """Return every big length of a page in mm, tallest first, its stacked fraction put together again."""
    return [mm for _, mm in named_lengths_on(words, units=units)]


def named_lengths_on(words: list[Printed], *, units: str) -> list[tuple[str, float]]:
    """Return every length drawn by itself, upright or turned, with what stands before it: ``("CHECK C", 1244.6)``."""
    if units == "metric":
        found = [(METRIC.fullmatch(w.text), w) for w in words]
        read = [(w, m["name"].strip(), parse_length(m["figures"]).mm) for m, w in found if m]
    else:
        read = [(w, *_inches_before(words, at)) for at, w in enumerate(words) if w.text == '"']
    return [(name, mm) for _, name, mm in sorted(read, key=lambda item: _height(item[0]), reverse=True)]


def _inches_before(words: list[Printed], mark: int) -> tuple[str, float]:
    """Put together what stands before an inch mark: a name, feet and inches, a fraction one above the other."""
    along = _along(words[mark])
    over, under = words[mark - 2], words[mark - 1]
    (o1, o2), (u1, u2) = along(over), along(under)
    if abs((o1 + o2) - (u1 + u2)) > 1.0 or not (over.text.isdigit() and under.text.isdigit()):
        return _named(under.text, "")  # not one above the other: no fraction
    lead = words[mark - 3]
    near = 0 <= o1 - along(lead)[1] < 1.2 * (_height(over)) and _height(lead) > 1.2 * _height(over)
    return _named(lead.text if near else "", f"{over.text}/{under.text}")


def _named(lead: str, fraction: str) -> tuple[str, float]:
    found = INCHES.fullmatch(lead)
    assert found, lead
    whole = found["figures"].strip()
    joint = "-" if fraction and whole[-1:].isdigit() else " "
    return found["name"].strip(), parse_length(f'{whole}{joint}{fraction}"'.strip()).mm


def _along(word: Printed) -> Callable[[Printed], tuple[float, float]]:
    """Return a measure of how far along one word's writing direction others begin and end."""
    (x1, y1), (x2, y2) = word.quad[0], word.quad[1]
    far = hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / far, (y2 - y1) / far

    def measure(other: Printed) -> tuple[float, float]:
        at = [x * ux + y * uy for x, y in other.quad]
        return min(at), max(at)

    return measure


def _height(word: Printed) -> float:
    """Return how high a word's characters stand, whichever way it is turned."""
    return hypot(word.quad[3][0] - word.quad[0][0], word.quad[3][1] - word.quad[0][1])
