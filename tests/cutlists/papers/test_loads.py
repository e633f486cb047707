"""The sheets of a load from rows."""

from dataclasses import replace
from io import BytesIO

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.loads import load_sheet_of
from cutlists.sheets.load_list import TAG_CHECK, LoadSheet, write_load_list
from spools.models import Load, LoadLine
from spools.queries.loads import lines_of
from tests.cutlists.papers.random_spools import foreman_of
from tests.cutlists.sheets.pdf_reading import all_text
from tests.factories.jobs import make_job
from tests.factories.people import make_shop
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


def a_load() -> LoadSheet:
    """A load of one tagged spool and one that has lost its tag."""
    job = make_job(make_shop())
    person = foreman_of(job.shop)
    load = Load.objects.create(
        shop=job.shop, number=7, kind="coating", going_to="Zinc", made_by=person, made_at=NOON, key=make_key()
    )
    for mark, tag in (("214", "02145"), ("215", "")):
        spool = make_spool(mark, job=job)
        spool.tag = tag
        spool.save(update_fields=["tag"])
        LoadLine.objects.create(load=load, spool=spool, rack="1")
    return load_sheet_of(load, list(lines_of(load)), Printing(person, NOON))


def test_a_spool_without_its_tag_gets_a_line_to_write_on_and_its_mark_in_the_notes() -> None:
    sheet = a_load()
    assert [line.tag for line in sheet.lines] == ["", "02145"]
    assert "no tag: 215" in sheet.lines[0].notes
    out = BytesIO()
    write_load_list(out, sheet)
    said = all_text(out.getvalue())
    assert "00000" not in said
    assert any(text.startswith("no tag: 215") for text in said)


def test_the_tag_check_adds_up_the_tags_that_are_there() -> None:
    sheet = a_load()
    out = BytesIO()
    write_load_list(out, sheet)
    words = f"tag check: tags add up to 2145, over {TAG_CHECK} leaves {2145 % TAG_CHECK}"
    assert words in all_text(out.getvalue())


def test_the_longest_without_a_tag_is_named_by_its_notes() -> None:
    sheet = a_load()
    rack = sheet.racks[0]
    longer = replace(rack.lines[0], length_mm=9000.0)
    out = BytesIO()
    write_load_list(out, replace(sheet, racks=(replace(rack, lines=(longer, rack.lines[1])),)))
    assert any(text.startswith("longest 29' 6") and "no tag: 215" in text for text in all_text(out.getvalue()))
