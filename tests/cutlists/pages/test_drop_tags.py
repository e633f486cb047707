"""A drop comes back with its tag: offered at the saw, printed with the stored figures, opened again by its code."""

import pytest
from django.conf import settings

from cutlists.models import StockBar
from spools.flow.roles import Role
from spools.say_lengths import say_length
from tests.cutlists.conftest import cuts_of
from tests.cutlists.sheets.pdf_reading import codes, lengths_on, open_pdf, printed
from tests.factories.people import make_person, make_shop
from tests.factories.stock import make_bars


@pytest.fixture
def drop(saw) -> StockBar:
    """What a bar left when its pieces were cut."""
    saw.spool()
    saw.bars(1, rack="R1")
    for cut in cuts_of(saw.plan()):
        made = saw.cut(cut)
    assert made.drop
    return StockBar.objects.select_related("heat").get(id=made.drop.id)


def words_of(page) -> str:
    return " ".join(word.text for word in printed(page))


def test_the_saw_offers_the_tag_once_beside_the_cut_that_finished_the_bar(drop, at_saw):
    page = at_saw.get("/saw/", {"plan": drop.cut_from.cuts.first().plan_id}).content.decode()
    address = f"/stock/bars/{drop.id}/tag.pdf?paper=label-4x2"
    assert page.count(address) == 1
    assert f"Tag of drop {drop.tag}" in page


def test_the_film_label_says_what_is_stored_and_its_code_opens_the_drop(drop, at_saw):
    answer = at_saw.get(f"/stock/bars/{drop.id}/tag.pdf", {"paper": "label-4x2"})
    assert answer["Content-Type"] == "application/pdf"
    (page,) = open_pdf(answer.content)
    assert page.get_size() == pytest.approx((288, 144), abs=0.5)
    said = words_of(page)
    for fact in (drop.tag, "NPS 6", "Sch 40", drop.heat.number, "R1", drop.cut_from.tag, drop.material):
        assert fact in said
    read = lengths_on(printed(page), units="us")[0]
    assert say_length(read, "us") == say_length(drop.length_mm, "us")
    (address,) = codes(page)
    assert address == f"{settings.PUBLIC_ADDRESS}/B/{drop.tag}".upper()
    path = address.removeprefix(settings.PUBLIC_ADDRESS.upper())
    assert at_saw.get(path)["Location"] == f"/stock/bars/{drop.id}/"
    assert at_saw.get(f"/b/{drop.tag.lower()}/")["Location"] == f"/stock/bars/{drop.id}/"


def test_the_stock_room_prints_the_tags_of_what_hangs_there(drop, saw, at_saw):
    make_bars(saw.shop, 3, nominal_mm=0, length_mm=900.0)  # drops that came with the shop
    assert "/stock/tags.pdf" in at_saw.get("/stock/").content.decode()
    assert f"/stock/bars/{drop.id}/tag.pdf" in at_saw.get(f"/stock/bars/{drop.id}/").content.decode()
    hanging = StockBar.objects.filter(is_drop=True, state="in_stock")
    assert hanging.count() == 4
    labels = open_pdf(at_saw.get("/stock/tags.pdf", {"paper": "label-4x2"}).content)
    assert [codes(page)[0].rsplit("/", 1)[1] for page in labels] == [
        bar.tag for bar in hanging.order_by("-length_u", "id")
    ]
    (sheet,) = open_pdf(at_saw.get("/stock/tags.pdf", {"paper": "a4"}).content)
    assert len(codes(sheet)) == 4


def test_without_a_drop_nothing_is_offered_and_the_address_says_so(saw, at_saw):
    saw.bars(1)
    assert "/stock/tags.pdf" not in at_saw.get("/stock/").content.decode()
    assert at_saw.get("/stock/tags.pdf").status_code == 404


def test_a_drop_of_another_shop_is_not_found(drop, sign_in):
    stranger = sign_in(make_person(make_shop("Elsewhere"), Role.CUTTER))
    for address in (f"/stock/bars/{drop.id}/tag.pdf", f"/B/{drop.tag}", "/stock/tags.pdf"):
        assert stranger.get(address).status_code == 404
