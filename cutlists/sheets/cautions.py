"""Prints the cautions of a piece or spool, and the words that they defer to."""

from cutlists.sheets import operators
from cutlists.sheets.figures import count_text
from cutlists.sheets.fonts import CAP_HEIGHT, TEXT, wrap
from cutlists.sheets.page import Page

DEFERS = "Cautions add to local codes, the job's drawings and licensed practice; they never replace them."
_HEIGHT, _LEADING, _GAP = 2.6, 4.3, 0.7
_FOOT = 6.0
_TWO_COLUMNS_FROM = 3, 150.0  # more cautions than that on a page as wide as that stand in two columns
_MOST_LINES = 6
_Lines = tuple[str, ...]


def _columns(cautions: tuple[str, ...], room: float) -> list[list[_Lines]]:
    """Return the cautions' lines in one column, or in two of about the same height, read down and then across."""
    least, wide = _TWO_COLUMNS_FROM
    count = 2 if len(cautions) > least and room >= wide else 1
    each = room / count - 7
    lines = [wrap(c, font=TEXT, size_mm=_HEIGHT / CAP_HEIGHT, room_mm=each, most_lines=_MOST_LINES) for c in cautions]
    if count == 1:
        return [lines]
    cut = min(range(1, len(lines)), key=lambda at: max(_high(lines[:at]), _high(lines[at:])))
    return [lines[:cut], lines[cut:]]


def _high(column: list[_Lines]) -> float:
    return sum(_LEADING * len(lines) + _GAP for lines in column)


def cautions_height(cautions: tuple[str, ...], *, room: float) -> float:
    """Return how high the cautions will be, 0 without any."""
    if not cautions:
        return 0.0
    return max(_high(column) for column in _columns(cautions, room)) + _FOOT


def as_many_as_fit(cautions: tuple[str, ...], *, room: float, high: float) -> tuple[str, ...]:
    """Return all cautions where they fit; otherwise the first ones and how many more the spool sheet says."""
    shown, left = cautions, 0
    while len(shown) > 1 and cautions_height(shown, room=room) > high:
        left += 1 if left else 2
        shown = (
            *cautions[: len(cautions) - left],
            f"Read the spool sheet first: it has {count_text(left, 'more caution')}.",
        )
    return shown


def draw_cautions(page: Page, cautions: tuple[str, ...], *, x: float, bottom: float, room: float) -> None:
    """Draw the cautions upward from ``bottom``, each with its triangle."""
    if not cautions:
        return
    height = cautions_height(cautions, room=room)
    page.box(x, bottom, room, height, line=0.5)
    page.words(x + 2, bottom + 1.6, DEFERS, 1.9, room=room - 4)
    columns = _columns(cautions, room)
    for at, column in enumerate(columns):
        _draw_column(page, column, x=x + at * room / len(columns), top=bottom + height - 0.6)


def _draw_column(page: Page, column: list[_Lines], *, x: float, top: float) -> None:
    y = top
    for lines in column:
        _triangle(page, x + 1.8, y - 3.9)
        for line in lines:
            y -= _LEADING
            page.words(x + 6.2, y + 0.6, line, _HEIGHT)
        y -= _GAP


def _triangle(page: Page, x: float, y: float) -> None:
    """Draw the sign with its stroke and dot."""
    operators.polyline(page.canvas, ((x, y), (x + 3.4, y), (x + 1.7, y + 3.0)), paint="f")
    operators.gray(page.canvas, 1.0)
    operators.rectangle(page.canvas, x + 1.5, y + 1.0, 0.4, 1.2, paint="f")
    operators.rectangle(page.canvas, x + 1.5, y + 0.4, 0.4, 0.4, paint="f")
    operators.gray(page.canvas, 0.0)
