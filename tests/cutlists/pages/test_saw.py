"""The saw's page: one bar, the next piece, one tap; what is wrong is handled on the spot."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from cutlists.models import Cut, StockBar
from spools.actions.hold_spool import hold_spool
from spools.actions.undo_event import undo_event
from spools.flow.roles import Role
from spools.models import Piece
from spools.solving import Typed
from tests.cutlists.conftest import cuts_of
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_key, take

HTMX = {"HX-Request": "true"}


@pytest.fixture
def plan(saw):
    saw.spool()
    saw.spool()
    saw.bars(2, rack="R1")
    return saw.plan()


def tap(client, url, **fields):
    return client.post(url, {"key": make_key() + "-long-enough"} | fields, headers=HTMX)


def text_of(answer) -> str:
    return answer.content.decode()


def test_it_shows_the_bar_and_the_next_piece_big(saw, plan, at_saw):
    page = at_saw.get("/saw/")
    first = cuts_of(plan)[0]
    text = text_of(page)
    assert page.context["page"].hand.next.cut == first
    for words in ("Bar B0001", "NPS 6 Sch 40", "wall 0.280 in", "heat 7K2214", "rack R1", "Okafor"):
        assert words in text
    assert '<div class="mark huge">214-A</div>' in text


def test_a_tap_brings_the_next_piece_without_a_new_page(saw, plan, at_saw):
    first, second = cuts_of(plan)[:2]
    answer = tap(at_saw, f"/saw/cuts/{first.id}/done/")
    assert answer.status_code == 200
    assert "<html" not in text_of(answer)
    assert answer.context["page"].hand.next.cut == second
    assert answer["HX-Push-Url"] == f"/saw/?plan={plan.id}&bar={first.bar_id}"


def test_without_scripts_the_tap_leads_back_to_the_bar(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    answer = at_saw.post(f"/saw/cuts/{first.id}/done/", {"key": "key-of-the-tap"})
    assert (answer.status_code, answer["Location"]) == (302, f"/saw/?plan={plan.id}&bar={first.bar_id}")


def test_a_tap_that_was_kept_on_the_tablet_says_when_it_was_made(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    form = {
        "key": "key-of-the-tap",
        "done_at": "2026-11-24T14:00:00Z",
        "sent_at": "2026-11-24T14:20:00Z",
    }
    answer = at_saw.post(f"/saw/cuts/{first.id}/done/", form, headers={"Accept": "application/json"})
    assert answer.json() == {"state": "kept", "words": "214-A: cut."}
    first.refresh_from_db()
    event = first.piece.spool.events.get(code="cut")
    assert 19 * 60 < (event.received_at - first.done_at).total_seconds() < 21 * 60


def test_a_refusal_of_a_kept_tap_is_an_answer_in_words(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    hold_spool(spool_id=first.piece.spool_id, person=saw.foreman, key=make_key(), at=saw.at, reason="no elbow")
    form = {"key": "key-of-the-tap"}
    answer = at_saw.post(f"/saw/cuts/{first.id}/done/", form, headers={"Accept": "application/json"})
    assert (answer.status_code, answer.json()["state"], answer.json()["code"]) == (409, "refused", "on_hold")


def test_when_the_bar_is_done_the_next_bar_comes_up_and_the_drop_is_named(saw, at_saw):
    for _ in range(8):
        saw.spool()
    saw.bars(3)
    plan = saw.plan()
    first_bar = cuts_of(plan)[0].bar_id
    for cut in [cut for cut in cuts_of(plan) if cut.bar_id == first_bar]:
        answer = tap(at_saw, f"/saw/cuts/{cut.id}/done/")
    assert answer.context["page"].hand.bar.id != first_bar
    assert len(answer.context["page"].latest) == 3


def test_the_last_cuts_can_be_undone_with_one_tap(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    tap(at_saw, f"/saw/cuts/{first.id}/done/")
    answer = tap(at_saw, f"/saw/cuts/{first.id}/undo/")
    assert answer.context["page"].hand.next.cut == first


def test_after_ten_minutes_the_foreman_is_asked_why(saw, plan, sign_in):
    first = cuts_of(plan)[0]
    saw.cut(first)
    Cut.objects.filter(id=first.id).update(done_at=saw.at)
    assert not sign_in(saw.cutter).get("/saw/").context["page"].latest[0].fresh
    assert 'name="reason"' in text_of(sign_in(saw.foreman).get("/saw/"))


def test_an_undo_on_the_spool_s_page_is_seen_here(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    event = saw.cut(first).recorded.event
    undo_event(spool_id=first.piece.spool_id, number=event.number, **saw.call())
    assert "Put it back on the bar" in text_of(at_saw.get("/saw/"))


def test_a_wrong_cut_with_a_length_that_can_t_be_read_keeps_what_was_typed(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    answer = tap(at_saw, f"/saw/cuts/{first.id}/wrong/", real="22 1/", reason="stop slipped")
    text = text_of(answer)
    assert answer.status_code == 422
    assert 'value="22 1/"' in text
    assert 'value="stop slipped"' in text
    assert not Cut.objects.exclude(state="planned").exists()


def test_a_wrong_cut_is_planned_again_and_offered_where_it_serves(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    answer = tap(at_saw, f"/saw/cuts/{first.id}/wrong/", real='20"', reason="stop slipped")
    (kept,) = answer.context["page"].kept
    assert kept.serves
    best = kept.serves[0].piece
    saved = at_saw.post(f"/saw/bars/{kept.bar.id}/save/", {"key": "key-of-the-save", "piece": best.id})
    assert saved.status_code == 302
    assert Cut.objects.get(piece=best, state="planned").bar == kept.bar


def test_bar_is_short_asks_for_a_length(saw, plan, at_saw):
    bar = cuts_of(plan)[0].bar
    assert tap(at_saw, f"/saw/bars/{bar.id}/short/", usable="").status_code == 422
    assert tap(at_saw, f"/saw/bars/{bar.id}/short/", usable="99'").status_code == 422
    answer = tap(at_saw, f"/saw/bars/{bar.id}/short/", usable="14'")
    assert answer.status_code == 200
    assert StockBar.objects.get(id=bar.id).length_mm == 14 * 304.8


def test_the_heat_is_typed_once_on_the_bar(saw, at_saw):
    saw.spool()
    saw.bars(1, heat="")
    plan = saw.plan()
    assert "no heat yet" in text_of(at_saw.get("/saw/"))
    answer = tap(at_saw, f"/saw/bars/{cuts_of(plan)[0].bar_id}/start/", heat="7k2214")
    assert "heat 7K2214" in text_of(answer)


def test_stop_stands_on_top_when_a_planned_piece_is_held(saw, plan, at_saw):
    first = cuts_of(plan)[0]
    hold_spool(spool_id=first.piece.spool_id, person=saw.foreman, key=make_key(), at=saw.at, reason="no elbow")
    page = at_saw.get("/saw/")
    assert "is on hold: no elbow" in text_of(page)
    assert page.context["page"].hand.next.stop is not None
    taken = tap(at_saw, f"/saw/cuts/{first.id}/out/")
    assert all(stop.cut.id != first.id for stop in taken.context["page"].hand.stops)


def test_news_comes_by_itself_only_when_there_is_some(saw, plan, at_saw):
    hand = at_saw.get("/saw/").context["page"].hand
    address = f"/saw/news/?plan={plan.id}&bar={hand.bar.id}&next={hand.next.cut.id}&seen={hand.news}"
    assert at_saw.get(address, headers=HTMX).status_code == 204
    hold_spool(spool_id=hand.next.cut.piece.spool_id, person=saw.foreman, key=make_key(), at=saw.at, reason="wait")
    assert "STOP" in text_of(at_saw.get(address, headers=HTMX))


def test_news_says_that_somebody_else_cut_on_this_bar(saw, plan, at_saw):
    hand = at_saw.get("/saw/").context["page"].hand
    address = f"/saw/news/?plan={plan.id}&bar={hand.bar.id}&next={hand.next.cut.id}&seen={hand.news}"
    saw.cut(cuts_of(plan)[0], person=saw.foreman)
    assert "Somebody was at this bar" in text_of(at_saw.get(address, headers=HTMX))


def test_two_saws_each_keep_their_own_bar(saw, sign_in):
    for _ in range(8):
        saw.spool()
    saw.bars(3)
    plan = saw.plan()
    bars = sorted({cut.bar_id for cut in cuts_of(plan)})
    other = make_person(saw.shop, Role.CUTTER, name="Diaz")
    for person, bar_id in ((saw.cutter, bars[0]), (other, bars[1])):
        cut = next(cut for cut in cuts_of(plan) if cut.bar_id == bar_id)
        saw.cut(cut, person=person)
    assert sign_in(saw.cutter).get("/saw/").context["page"].hand.bar.id == bars[0]
    assert sign_in(other).get("/saw/").context["page"].hand.bar.id == bars[1]


def test_elbows_to_trim_stand_beneath_with_their_marks(saw, plan, at_saw):
    page = at_saw.get("/saw/")
    line = page.context["page"].elbows[0]
    assert [name for name, _ in line.marks] == ["throat", "center", "heel"]
    tap(at_saw, f"/saw/elbows/{line.piece.id}/done/")
    assert Piece.objects.get(id=line.piece.id).is_cut
    assert len(at_saw.get("/saw/").context["page"].elbows) == 1


def test_the_label_is_one_pdf_page(saw, plan, at_saw):
    answer = at_saw.get(f"/saw/cuts/{cuts_of(plan)[0].id}/label.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.count(b"/Type /Page\n") + answer.content.count(b"/Type /Page ") == 1


def test_nothing_to_cut_says_so(saw, at_saw):
    assert "Nothing to cut" in text_of(at_saw.get("/saw/"))


@pytest.mark.parametrize("address", ["/saw/?plan=x", "/saw/?bar=-1", "/saw/?plan=999999999999999999999"])
def test_junk_in_the_address_is_not_found(saw, plan, at_saw, address):
    assert at_saw.get(address).status_code == 404


def test_another_shop_sees_none_of_it(saw, plan, sign_in):
    stranger = sign_in(make_person(make_shop("Other"), Role.CUTTER))
    cut = cuts_of(plan)[0]
    assert stranger.get(f"/saw/?plan={plan.id}").status_code == 404
    assert stranger.get(f"/saw/plans/{plan.id}/").status_code == 404
    assert stranger.post(f"/saw/cuts/{cut.id}/done/", {"key": "key-of-stranger"}).status_code == 404
    assert stranger.get(f"/saw/cuts/{cut.id}/label.pdf").status_code == 404


def queries(client, url) -> int:
    client.get(url)
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert client.get(url).status_code == 200
    return len(seen)


def test_the_page_costs_the_same_for_2_and_for_50_spools(saw, at_saw):
    saw.spool()
    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    saw.cut(Cut.objects.filter(state="planned").first())
    saw.spool()
    few = {url: queries(at_saw, url) for url in ("/saw/", "/saw/plan/", f"/saw/plans/{plan.id}/", "/stock/")}
    for _ in range(24):
        saw.spool()
    saw.bars(12)
    saw.plan()
    for url, count in few.items():
        assert queries(at_saw, url) <= count, url
    assert few["/saw/"] <= 20


def test_a_leg_measured_again_after_cutting_stops_the_other_and_says_what_the_cut_one_is_worth(saw, at_saw):
    spool = saw.spool()
    saw.bars(2)
    plan = saw.plan()
    first, second = cuts_of(plan)
    saw.cut(first)
    take(spool.tie_in, Typed(leg_a="36 1/2", leg_b="22 3/16", included="127.5", closing="53"), again=True)
    page = at_saw.get("/saw/", {"plan": plan.id, "bar": second.bar_id})
    (stop,) = page.context["page"].hand.stops
    assert stop.cut == second
    assert stop.words.endswith('A is short by 3/8": it does not serve.')
    assert f"/s/S{spool.id}-A/" in text_of(page)
    answer = tap(at_saw, f"/saw/cuts/{second.id}/done/")
    assert 400 <= answer.status_code < 500
    assert spool.events.filter(code="cut").count() == 1
