"""Kept drawings: drawn once, read back the same, drawn anew when they are of something else."""

import pytest

from cutlists.models import KeptDrawing
from cutlists.papers.heading import Printing, spool_code
from cutlists.papers.kept import kept_drawing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.sheets import paper
from cutlists.sheets.qr import encode
from geometry.drawing.shapes import Drawing, Line
from spools.models import Spool
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.spools import NOON, make_spool

pytestmark = pytest.mark.django_db
SIZE = (10.0, 10.0)


def drawing(length: float) -> Drawing:
    """A drawing of one line."""
    return Drawing(*SIZE, (Line(0, 0, length, 0, "edge"),), "line", "1:2", "from above")


def kept(spool: Spool, length: float, size: tuple[float, float] = SIZE) -> float:
    """Ask for a drawing of a line; return how long the line is that comes."""
    found = kept_drawing(Spool.objects.get(id=spool.id), "test", size_mm=size, draw=lambda: drawing(length))
    assert isinstance(found.shapes[0], Line)
    return found.shapes[0].x2_mm


def test_what_is_kept_is_not_drawn_again_until_its_size_changes() -> None:
    spool = make_spool()
    assert [kept(spool, 5.0), kept(spool, 7.0), kept(spool, 7.0, (20.0, 10.0))] == [5.0, 5.0, 7.0]
    assert KeptDrawing.objects.filter(spool=spool, kind="test").count() == 1


def test_a_mark_written_otherwise_is_drawn_anew() -> None:
    spool = make_spool()
    kept(spool, 5.0)
    spool.tie_in.mark = "214X"
    spool.tie_in.save()
    assert kept(spool, 7.0) == 7.0


def test_the_second_print_of_tickets_and_sheet_equals_the_first_and_draws_nothing() -> None:
    spool = make_spool()
    printing = Printing(foreman_of(spool.shop), NOON)

    def values() -> tuple:
        (found,) = spools_to_print([spool.id], printing.person)
        return tickets_of(found, printing), spool_sheet_of(found, printing, paper=paper("a4"))

    first = values()
    rows = list(KeptDrawing.objects.order_by("id").values("id", "kind", "body"))
    assert {row["kind"] for row in rows} == {"ticket", "codes", "sheet-a4"}
    assert values() == first
    assert list(KeptDrawing.objects.order_by("id").values("id", "kind", "body")) == rows


def test_kept_codes_are_the_codes_and_follow_the_public_address(settings) -> None:
    spool = make_spool()
    settings.PUBLIC_ADDRESS = "http://one.example"
    spool_code(spool)
    settings.PUBLIC_ADDRESS = "http://two.example"
    code = spool_code(Spool.objects.get(id=spool.id), "A")
    assert code.address == f"HTTP://TWO.EXAMPLE/S/S{spool.id}-A-A"
    assert code.matrix == encode(code.address)
