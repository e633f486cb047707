"""The drawing of a spool, from its stored solution."""

from collections.abc import Callable

from django.core.cache import cache
from django.utils.safestring import SafeString, mark_safe

from geometry.drawing.description import SpoolDrawing
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.isometric import isometric_view
from geometry.drawing.shapes import Drawing
from geometry.drawing.spool_view import spool_view
from geometry.drawing.svg import to_svg
from spools.models import Spool
from spools.stored_solutions import read_solution
from spools.transactions import fingerprint

DRAWN_BY = 4  # counts up when a drawing's looks change
KEPT_S = 7 * 24 * 3600


def described(spool: Spool) -> SpoolDrawing:
    """Return what is to draw of a spool, whichever way one looks at it."""
    solution = read_solution(spool.solution)
    return spool_drawing(solution.request, solution.answer, mark=spool.label, hand=spool.reading.the_hand)


def drawing_of(spool: Spool) -> Drawing:
    """Return the drawing to scale, for any renderer."""
    return spool_view(described(spool))


def drawing_svg(spool: Spool) -> SafeString:
    """Return the drawing to scale for the page."""
    return _kept(spool, "flat", drawing_of)


def isometric_svg(spool: Spool) -> SafeString:
    """Return the isometric drawing for the page."""
    return _kept(spool, "isometric", lambda one: isometric_view(described(one)))


def _kept(spool: Spool, view: str, draw: Callable[[Spool], Drawing]) -> SafeString:
    """A build's drawing never changes, so it is drawn once and kept."""
    key = "drawing-" + fingerprint(spool.id, spool.label, spool.inputs_hash, spool.reading.hand, view, DRAWN_BY)
    svg: str | None = cache.get(key)
    if svg is None:
        svg = to_svg(draw(spool))
        cache.set(key, svg, KEPT_S)
    return mark_safe(svg)  # noqa: S308  the SVG writer escapes every text
