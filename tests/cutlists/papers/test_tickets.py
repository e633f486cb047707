"""Cut tickets from rows: each says the piece's own ends, its place on the bar and the sketch at its printed size."""

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.sheets.ticket_page import SKETCH_HEIGHT_MM, SKETCH_WIDTH_MM
from cutlists.sheets.ticket_values import Ticket
from spools.models import Spool
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.spools import NOON, make_spool

pytestmark = pytest.mark.django_db


def tickets(spool: Spool) -> dict[str, Ticket]:
    """The spool's tickets by piece."""
    person = foreman_of(spool.shop)
    (found,) = spools_to_print([spool.id], person)
    return {ticket.piece: ticket for ticket in tickets_of(found, Printing(person, NOON))}


def test_a_ticket_says_the_stored_cut_length_of_its_piece() -> None:
    spool = make_spool()
    found = tickets(spool)
    assert {mark: ticket.length_mm for mark, ticket in found.items()} == dict(
        spool.pieces.values_list("mark", "cut_mm")
    )


def test_a_slanted_cut_is_pictured_and_named_as_a_miter() -> None:
    leg = tickets(make_spool(bend_kind="miter", bend_options={"welds": 1, "miters_allowed": True}))["A"]
    assert (leg.end_1.code, leg.end_2.code) == ("beveled", "miter")
    assert leg.end_2.words == "miter 26.25°, beveled"
    assert leg.end_2.note == "weld 1, degrees from square"


def test_an_elbow_says_which_face_is_trimmed_and_which_is_as_bought() -> None:
    elbow = tickets(make_spool())["E"]
    assert {elbow.end_1.words, elbow.end_2.words} == {"as bought", "trimmed, beveled"}
    assert [mark.name for mark in elbow.marks] == ["throat", "center", "heel"]


def test_the_sketch_has_the_size_it_is_printed_at() -> None:
    sketch = tickets(make_spool())["A"].sketch
    assert sketch is not None
    assert (sketch.width_mm, sketch.height_mm) == (SKETCH_WIDTH_MM, SKETCH_HEIGHT_MM)


def test_the_code_names_spool_build_and_piece() -> None:
    spool = make_spool()
    assert tickets(spool)["B"].code.typed == f"S{spool.id}-A-B"
