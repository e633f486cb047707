"""Planning from the screen: what is ticked is planned, how good it is stands in words, nothing ticked is lost."""

import pytest

from cutlists.models import CutPlan, PlanSearch
from tests.cutlists.conftest import cuts_of


def text_of(answer) -> str:
    return answer.content.decode()


@pytest.fixture
def plan(saw):
    for _ in range(3):
        saw.spool()
    saw.bars(2)
    return saw.plan()


def test_what_is_to_cut_is_offered_by_pipe_with_what_lies_free(saw, at_saw):
    saw.spool()
    saw.spool(nps="8")
    saw.bars(1)
    groups = at_saw.get("/saw/plan/").context["groups"]
    assert [(group.nps, group.pieces, group.bars, group.is_enough) for group in groups] == [
        ("6", 2, 1, True),
        ("8", 2, 0, False),
    ]


def test_the_ticked_are_planned_with_one_press(saw, at_saw):
    ticked, other = saw.spool(), saw.spool()
    saw.bars(1)
    answer = at_saw.post("/saw/plan/", {"key": "key-of-the-plan", "spool": [ticked.id]}, follow=True)
    plan = CutPlan.objects.get()
    assert {cut.piece.spool_id for cut in cuts_of(plan)} == {ticked.id}
    assert "Proven: no plan uses less." in text_of(answer)
    assert other.id in {spool.id for group in at_saw.get("/saw/plan/").context["groups"] for spool, _ in group.spools}


def test_without_stock_the_ticks_stay_and_the_pieces_are_named(saw, at_saw):
    ticked, other = saw.spool(), saw.spool()
    answer = at_saw.post("/saw/plan/", {"key": "key-of-the-plan", "spool": [ticked.id]})
    assert answer.status_code == 422
    assert answer.context["ticked"] == {ticked.id}
    assert "214-A" in text_of(answer)
    assert other.id not in answer.context["ticked"]


def test_rush_alone_can_be_ticked(saw, at_saw):
    saw.spool()
    rush = saw.spool()
    rush.rush = True
    rush.save()
    assert at_saw.get("/saw/plan/?which=rush").context["ticked"] == {rush.id}


def test_what_if_answers_without_writing(saw, at_saw):
    saw.spool()
    answer = at_saw.get("/saw/plan/", {"bought": "42'"})
    assert [(one.to_buy, one.word) for one in answer.context["answers"]] == [(1, "proven: no plan uses less")]
    assert not CutPlan.objects.exists()


@pytest.mark.parametrize("text", ["nonsense", "1' 2\" 3", "-4"])
def test_a_length_that_can_t_be_read_says_how_to_write_it(saw, at_saw, text):
    saw.spool()
    answer = at_saw.get("/saw/plan/", {"bought": text})
    assert answer.status_code == 200
    assert answer.context["bought_trouble"]


def test_a_plan_shows_each_bar_and_stands_beside_plain_cutting(saw, plan, at_saw):
    page = at_saw.get(f"/saw/plans/{plan.id}/").context["page"]
    assert (page.cuts, page.done, page.new_bars) == (6, 0, len(page.bars))
    assert [way.words for way in page.ways] == [
        "this plan, as it was made",
        "in ticket order",
        "longest piece first",
    ]


def test_the_plan_s_paper_is_a_pdf(saw, plan, at_saw):
    answer = at_saw.get(f"/saw/plans/{plan.id}.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")


def test_the_rest_is_called_off_with_one_press(saw, plan, at_saw):
    at_saw.post(f"/saw/plans/{plan.id}/off/", {"key": "key-of-the-end"})
    plan.refresh_from_db()
    assert (plan.state, cuts_of(plan)) == ("withdrawn", [])


def test_a_longer_look_can_be_asked_for_and_stopped(saw, plan, at_saw):
    CutPlan.objects.update(proven=False)
    at_saw.post(f"/saw/plans/{plan.id}/search/", {"key": "key-of-the-look"})
    search = PlanSearch.objects.get()
    assert "Looking for a better plan" in text_of(at_saw.get(f"/saw/plans/{plan.id}/"))
    at_saw.post(f"/saw/searches/{search.id}/stop/")
    search.refresh_from_db()
    assert (search.stop_asked, search.state) == (True, "done")


def test_one_heat_can_be_chosen_for_a_pipe_and_is_kept_when_it_does_not_suffice(saw, at_saw):
    ticked = saw.spool()
    saw.bars(1)
    (short,) = saw.bars(1, lengths_mm=[300.0], nominal_mm=0, heat="8H1907")
    code = f"6|40|{short.material}|{short.heat_id}"
    assert code in text_of(at_saw.get("/saw/plan/"))
    answer = at_saw.post("/saw/plan/", {"key": "key-of-the-plan", "spool": [ticked.id], "one_heat": [code]})
    assert answer.status_code == 422
    assert f'<option value="{code}" selected>' in text_of(answer)
