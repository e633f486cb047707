"""The stock room's pages: lengths as people type them, errors by line, one heat traced both ways."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from cutlists.models import StockBar
from spools.actions.scrap_spool import scrap_spool
from spools.models import Heat
from tests.cutlists.conftest import cuts_of

FORM = {
    "key": "key-of-the-truck",
    "nps": "6",
    "schedule": "40",
    "material": "A53 B",
    "heat": "7K2214",
    "nominal": "21'",
    "lengths": "21' 0-1/2\"\n2 x 20' 6\"",
    "rack": "R1",
}


def text_of(answer) -> str:
    return answer.content.decode()


def test_lengths_are_typed_one_on_a_line_or_several_alike(saw, at_saw):
    answer = at_saw.post("/stock/receive/", FORM)
    assert answer.status_code == 302
    lengths = [round(bar.length_mm / 25.4, 4) for bar in StockBar.objects.order_by("id")]
    assert lengths == [252.5, 246.0, 246.0]


def test_every_line_that_can_t_be_read_is_named_and_nothing_typed_is_lost(saw, at_saw):
    typed = "21' 0-1/2\"\n20' 6 1/\nx x 21'"
    answer = at_saw.post("/stock/receive/", FORM | {"lengths": typed})
    text = text_of(answer)
    assert answer.status_code == 422
    assert "Line 2, 20&#x27; 6 1/" in text
    assert "Line 3, x x 21&#x27;" in text
    assert answer.context["form"]["lengths"].value() == typed
    assert not StockBar.objects.exists()


def test_a_form_sent_twice_books_once(saw, at_saw):
    for _ in range(2):
        at_saw.post("/stock/receive/", FORM)
    assert StockBar.objects.count() == 3


def test_a_size_and_schedule_that_don_t_exist_say_what_does(saw, at_saw):
    answer = at_saw.post("/stock/receive/", FORM | {"schedule": "41"})
    assert answer.status_code == 422
    assert answer.context["form"].errors["nps"]


def test_sizes_stand_in_rising_order(saw, at_saw):
    saw.bars(1, nps="10")
    saw.bars(1, nps="6")
    page = at_saw.get("/stock/")
    assert [one.nps for one in page.context["totals"]] == ["6", "10"]
    assert [row.bar.nps for row in page.context["bars"]] == ["6", "10"]


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_list_comes_as_a_file(saw, at_saw, kind):
    saw.bars(1)
    answer = at_saw.get(f"/stock.{kind}")
    assert answer.status_code == 200
    assert f'filename="stock.{kind}"' in answer["Content-Disposition"]


def test_the_csv_gives_lengths_in_inches_and_in_mm(saw, at_saw):
    saw.bars(1)
    head, row = at_saw.get("/stock.csv").content.decode().splitlines()
    fields = dict(zip(head.split(","), row.split(","), strict=True))
    assert (fields["tag"], fields["length_in"], fields["length_mm"]) == ("B0001", "252.0", "6400.8")


def test_a_bar_is_scrapped_with_a_reason(saw, at_saw):
    (bar,) = saw.bars(1)
    assert at_saw.post(f"/stock/bars/{bar.id}/scrap/", {"key": "key-of-no-reason"}).status_code == 422
    at_saw.post(f"/stock/bars/{bar.id}/scrap/", {"key": "key-of-the-bin", "reason": "pitted"})
    assert "pitted" in text_of(at_saw.get(f"/stock/bars/{bar.id}/"))


def test_a_count_with_another_length_keeps_what_was_typed_until_there_is_a_reason(saw, at_saw):
    (bar,) = saw.bars(1)
    answer = at_saw.post(f"/stock/bars/{bar.id}/count/", {"key": "key-of-a-count", "length": "20'", "rack": "R2"})
    assert answer.status_code == 422
    assert "20&#x27;" in text_of(answer)


def test_from_a_heat_to_its_pieces_and_spools_and_from_a_bar_back(saw, at_saw):
    saw.spool()
    (bar,) = saw.bars(1, heat="7K2214")
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    heat = Heat.objects.get(number="7K2214")
    page = at_saw.get(f"/stock/heats/{heat.id}/")
    assert [str(piece) for piece in page.context["page"]] == ["214-A", "214-B"]
    assert bar.tag in text_of(page)
    assert "214-A" in text_of(at_saw.get(f"/stock/bars/{bar.id}/"))


def test_a_certificate_is_kept_with_its_heat(saw, at_saw):
    saw.bars(1, heat="7K2214")
    heat = Heat.objects.get()
    file = SimpleUploadedFile("mill cert.pdf", b"%PDF-1.4 mill certificate")
    assert at_saw.post(f"/stock/heats/{heat.id}/certificate/new/", {"certificate": file}).status_code == 302
    answer = at_saw.get(f"/stock/heats/{heat.id}/certificate/")
    assert answer["Content-Type"] == "application/pdf"
    assert b"".join(answer.streaming_content) == b"%PDF-1.4 mill certificate"


def test_what_is_no_certificate_is_refused(saw, at_saw):
    saw.bars(1, heat="7K2214")
    heat = Heat.objects.get()
    file = SimpleUploadedFile("cert.pdf", b"<html><script>")
    assert at_saw.post(f"/stock/heats/{heat.id}/certificate/new/", {"certificate": file}).status_code == 422
    assert not Heat.objects.get().certificate


def test_a_leg_of_an_ended_build_goes_back_to_the_rack(saw, at_saw):
    spool = saw.spool()
    saw.bars(1)
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    scrap_spool(spool_id=spool.id, reason="inlet gone", **saw.call(saw.foreman))
    assert [leg.piece.mark for leg in at_saw.get("/stock/legs/").context["legs"]] == ["A", "B"]
    leg = spool.pieces.get(mark="A")
    at_saw.post(f"/stock/legs/{leg.id}/return/", {"key": "key-of-the-leg", "usable": "24", "rack": "D1"})
    assert [leg.piece.mark for leg in at_saw.get("/stock/legs/").context["legs"]] == ["B"]
    assert StockBar.objects.get(rack="D1").length_u == 24 * 8128
