"""What goes wrong at the saw, each from the first tap to its effects; the tests share one day, in their order."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.day_people import events_of, spool_number, standing_of
from tests.browser.floor_hands import hear_nothing

DAY = "exceptions_day"


def next_mark(saw) -> str:
    return saw.locator(".hand:visible .mark.huge").inner_text()


def cut_next(saw) -> str:
    """Tap CUT DONE; return what was cut."""
    mark = next_mark(saw)
    saw.locator(".hand:visible button.deed").click()
    expect(saw.locator("ul[aria-label='Last cuts'] li").first).to_contain_text(f"{mark} cut")
    return mark


def spools_of(marks) -> set[str]:
    return {mark.rsplit("-", 1)[0] for mark in marks}


def heats(day) -> set[str]:
    sql = "SELECT h.number FROM spools_piece p JOIN spools_heat h ON h.id = p.heat_id"
    return {number for (number,) in day.rows(f"{sql} WHERE p.is_cut = 1 AND p.sawn = 1")}


@pytest.fixture(scope="module")
def cut(day, people) -> list[str]:
    """The heat is typed once, as the bar is laid on; two pieces are cut from it."""
    saw = people.at("Duvall", "/saw/")
    saw.fill("#heat", "7k2241")
    saw.click("button:has-text('Bar is on the saw')")
    expect(saw.locator(".bar-line")).to_contain_text("heat 7K2241")
    return [cut_next(saw), cut_next(saw)]


def test_a_heat_typed_wrong_is_put_right_on_the_bar_its_pieces_and_their_spools(day, people, cut):
    assert heats(day) == {"7K2241"}
    ((bar,),) = day.rows(
        "SELECT b.id FROM cutlists_stockbar b JOIN spools_heat h ON h.id = b.heat_id WHERE h.number = '7K2241'"
    )
    page = people.at("Duvall", f"/stock/bars/{bar}/")
    page.click("summary:has-text('typed wrong')")
    page.fill("input[name=heat]", "7K2214")
    page.fill("#heat-wrong input[name=reason]", "two digits turned, read off the stencil again")
    page.click("button:has-text('Put the heat right')")
    expect(page.locator("main")).to_contain_text("Heat put right, heat 7K2214 instead of 7K2241")
    assert heats(day) == {"7K2214"}
    for mark in spools_of(cut):
        assert events_of(day, mark)[-1] == "heat_corrected"
    story = people.at("Duvall", f"/spools/{spool_number(day, cut[0][:3])}/").inner_text(".story")
    assert "7K2241 to 7K2214" in story
    assert "Heat put right" in people.told("Kellan")


def test_a_wrong_cut_is_racked_offered_where_it_serves_and_cut_again_first_on_its_bar(day, people, cut):
    saw = people.at("Duvall", "/saw/")
    wrong = next_mark(saw)
    saw.click("#about-next summary:has-text('Wrong cut')")
    saw.fill("#real", '20"')
    saw.fill("#reason", "stop slipped")
    saw.click("#about-next button:has-text('It was cut wrong')")
    told = saw.locator(".messages, [role=status]").filter(has_text=f"{wrong}: wrong cut").first
    expect(told).to_contain_text("paint that on")
    expect(told).to_contain_text("cut again, first on bar")
    mark, piece = wrong.rsplit("-", 1)
    assert events_of(day, mark)[-2:] == ["cut", "wrong_cut"]
    ((state,),) = day.rows(
        "SELECT COUNT(*) FROM cutlists_cut c JOIN spools_piece p ON p.id = c.piece_id "
        "JOIN spools_spool s ON s.id = p.spool_id "
        "JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? AND p.mark = ? AND c.state = 'planned'",
        mark,
        piece,
    )
    assert state == 1
    ((heat,),) = day.rows(
        "SELECT h.number FROM cutlists_stockbar b JOIN spools_heat h ON h.id = b.heat_id "
        "WHERE b.is_drop = 1 AND b.state = 'in_stock' AND b.length_u = ?",
        round(20 * 25.4 * 320),
    )
    assert heat == "7K2214"
    assert f"{mark}: Wrong cut" in re.sub(r"\s+", " ", people.told("Kellan")).replace(f"{mark} Wrong", f"{mark}: Wrong")


def test_what_was_cut_wrong_serves_another_tie_in_with_one_tap(day, people, cut):
    saw = people.at("Duvall", "/saw/")
    offer = saw.locator(".kept button").first
    other = offer.inner_text().split(":")[0]
    offer.click()
    expect(saw.locator("main")).to_contain_text(f"{other} comes from D")
    ((drop,),) = day.rows(
        "SELECT b.is_drop FROM cutlists_cut c JOIN cutlists_stockbar b ON b.id = c.bar_id "
        "JOIN spools_piece p ON p.id = c.piece_id "
        "JOIN spools_spool s ON s.id = p.spool_id JOIN spools_tiein t ON t.id = s.tie_in_id "
        "WHERE c.state = 'planned' AND t.mark || '-' || p.mark = ?",
        other,
    )
    assert drop == 1


def test_a_piece_that_is_cut_already_can_turn_out_wrong_too(day, people, cut):
    saw = people.at("Duvall", "/saw/")
    first = saw.locator("ul[aria-label='Last cuts'] li", has_text=cut[0])
    first.locator("summary:has-text('Wrong cut')").click()
    first.get_by_label("What went wrong").fill("out of square")
    first.get_by_label("really measures").fill("22 1/")
    first.locator("button:has-text('It was cut wrong')").click()
    expect(first.locator(".errorlist")).to_be_visible()  # the length can't be read; nothing typed is lost
    expect(first.get_by_label("What went wrong")).to_have_value("out of square")
    first.get_by_label("really measures").fill("")
    first.locator("button:has-text('It was cut wrong')").click()
    expect(saw.locator("main")).to_contain_text(f"{cut[0]}: wrong cut; what was cut is scrap")
    assert events_of(day, cut[0][:3])[-1] == "wrong_cut"
    assert standing_of(day, cut[0][:3])[1] == "cut"


def test_a_short_bar_is_planned_again_and_what_is_cut_stays(day, people, cut):
    done = day.rows("SELECT id, bar_id, position_u FROM cutlists_cut WHERE state = 'done' ORDER BY id")
    saw = people.at("Duvall", "/saw/")
    saw.click("#about-next summary:has-text('Bar is short')")
    saw.fill("#usable", "3'")
    saw.fill("#why", "bent at the end")
    saw.click("button:has-text('The bar is this long')")
    expect(saw.locator("main")).to_contain_text("planned again")
    assert day.rows("SELECT id, bar_id, position_u FROM cutlists_cut WHERE state = 'done' ORDER BY id") == done
    moved = day.rows("SELECT COUNT(*) FROM cutlists_cut WHERE state = 'planned' AND moved_at IS NOT NULL")[0][0]
    assert moved >= 1
    expect(saw.locator("#saw")).to_contain_text("changed")


def test_a_revision_after_cutting_holds_the_spool_and_stops_the_saw_by_itself(day, people, cut):
    mark = cut[1][:3]  # one leg of it is cut, the other is planned again
    ((plan, bar),) = day.rows(
        "SELECT c.plan_id, c.bar_id FROM cutlists_cut c JOIN spools_piece p ON p.id = c.piece_id JOIN spools_spool s "
        "ON s.id = p.spool_id JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? AND c.state = 'planned'",
        mark,
    )
    saw = people.at("Duvall", f"/saw/?plan={plan}&bar={bar}")
    expect(saw.locator("#news .strip.stop")).to_have_count(0)
    ((tie_in,),) = day.rows("SELECT id FROM spools_tiein WHERE mark = ?", mark)
    field = people.at("Okafor", f"/field/{tie_in}/")
    for name, text in (("leg_a", "36 3/8"), ("leg_b", "22 9/16"), ("included", "127.5"), ("closing", "53 3/16")):
        field.fill(f"#id_{name}", text)
    field.click("button:has-text('Check and keep')")
    field.click("button:has-text('Measured again')")
    expect(field.locator("main")).to_contain_text("reading B")
    status, _, holds, _, _ = standing_of(day, mark)
    assert (status, holds) == ("measured", 1)
    assert events_of(day, mark)[-1] == "held"
    stop = saw.locator("#news .strip.stop")
    expect(stop).to_contain_text(f"{mark}-A")
    expect(stop).to_contain_text("new reading B after cutting began")
    told = people.told("Kellan")
    assert "after cutting began" in told
    assert "it is your move" in told
    floor = people.at("Kellan", "/floor/")
    floor.locator("#tray li", has_text=mark).locator("a").click()
    expect(floor.locator("main")).to_contain_text("Does the steel still serve?")
    floor.fill("#reason", "the drain moved")
    floor.click("button:has-text('Build it instead')")
    expect(floor.locator("h1")).to_contain_text(f"{mark} B")
    assert events_of(day, mark)[-2:] == ["superseded", "measured"]
    expect(stop).to_contain_text("build B is made instead")


def test_the_second_of_two_at_one_cut_is_told_who_was_first(day, people, cut):
    saw, other = people.at("Duvall", "/saw/"), people.at("Kellan", "/saw/")
    bars = other.locator(".bars a[aria-current]")
    take_out = other.locator("button:has-text('Take it out of the plan')")
    while other.locator(".hand:visible button.deed").count() == 0:
        stopped = take_out.count()
        take_out.first.click()
        expect(take_out).to_have_count(stopped - 1)
    saw.goto(f"{day.url}/saw/?{other.locator('#saw').get_attribute('data-address').split('?')[1]}")
    assert bars.count() == 1
    mark = next_mark(other)
    assert next_mark(saw) == mark
    hear_nothing(saw)
    other.locator(".hand:visible button.deed").click()
    expect(other.locator("ul[aria-label='Last cuts'] li").first).to_contain_text(f"{mark} cut")
    before = events_of(day, mark[:3]).count("cut")
    saw.locator(".hand:visible button.deed").click()
    expect(saw.locator("#outbox")).to_contain_text(re.compile(r"already cut by Kellan \d\d:\d\d"))
    assert events_of(day, mark[:3]).count("cut") == before


def test_a_slip_is_undone_in_place_by_whoever_made_it(day, people, cut):
    saw = people.at("Kellan", "/saw/")
    line = saw.locator("ul[aria-label='Last cuts'] li").first
    mark = line.locator("b").inner_text()
    line.locator("form.undo button").click()
    expect(saw.locator("main")).to_contain_text(f"{mark} is not cut")
    assert events_of(day, mark[:3])[-1] == "undone"
