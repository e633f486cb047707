"""What goes wrong at the bench, from the first tap to its effects; the tests share one day, in their order."""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.browser.day_people import events_of, serious, spool_number, standing_of
from tests.browser.floor_hands import hear_nothing

DAY = "exceptions_day"
BENCH_1, BENCH_2 = "/benches/1/", "/benches/2/"


def in_hand(page, mark):
    """Take a spool in hand by its mark; return its card."""
    page.fill("#mark", mark)
    page.click("#look-up button:has-text('Take in hand')")
    card = page.locator(".hand:visible")
    expect(card.locator(".mark.huge")).to_have_text(mark)
    return card


def details(day, mark, code):
    """What the newest event of a code says besides."""
    sql = "SELECT e.details FROM spools_event e WHERE e.spool_id = ? AND e.code = ? ORDER BY e.number DESC"
    return json.loads(day.rows(sql, spool_number(day, mark), code)[0][0])


def test_a_weld_is_rejected_with_its_defect_and_comes_back_to_the_welder_as_a_second_attempt(day, people):
    bench = people.at("Banner", BENCH_1)
    card = in_hand(bench, "521")
    expect(card).to_contain_text("Accepted")
    card.locator("a:has-text('Not right')").click()
    page = bench
    page.click("#reject summary")
    page.select_option("#reject select[name=joint]", "1")
    page.select_option("#reject select[name=defect]", "porosity")
    page.select_option("#reject select[name=back_to]", "welded")
    page.fill("#reject input[name=reason]", "cluster at the throat")
    page.click("#reject button.stop")
    expect(page.locator(".chips")).to_contain_text("attempt 2")
    assert events_of(day, "521")[-1] == "rejected"
    assert standing_of(day, "521")[:2] == ("beveled", "welded")
    said = details(day, "521", "rejected")
    assert (said["joint"], said["defect"], said["back_to"], said["attempt"]) == (1, "porosity", "welded", 2)
    told = people.told("Ruiz")
    assert "Rejected" in told
    assert "weld 1 porosity: cluster at the throat" in told
    assert "you welded it" in told
    card = in_hand(people.at("Ruiz", BENCH_1), "521")
    expect(card.locator("button.deed:visible")).to_contain_text("Welded")
    expect(card).to_contain_text("attempt 2")
    expect(card).to_contain_text("weld 1 porosity: cluster at the throat")


def test_c_and_the_included_angle_are_held_against_the_print_before_another_person_accepts(day, people):
    bench = people.at("Banner", BENCH_1)
    card = in_hand(bench, "522")
    field = card.locator("input[name=check]:visible")
    must_be = float(field.get_attribute("data-check-mm"))
    field.fill(f"{must_be + 1:.1f} mm")
    card.locator("input[name=included]:visible").fill("126.2")
    card.locator("button.deed:visible").click()
    asked = card.locator("[data-asked]")
    expect(asked).to_contain_text("The included angle is 1.3° under.")
    asked.locator("[data-no]").click()  # measured again
    field = card.locator("input[name=check]:visible")
    field.fill(f"{must_be + 1:.1f} mm")
    card.locator("input[name=included]:visible").fill("127.2")
    card.locator("button.deed:visible").click()
    expect(bench.locator("#latest li").first).to_contain_text("522 accepted")
    said = details(day, "522", "accepted")
    assert said["included_deg"] == 127.2
    assert said["print"]["class"] == "PFI ES-3"
    assert standing_of(day, "522")[1] == "at_coating"
    page = people.at("Banner", f"/spools/{spool_number(day, '522')}/")
    record = page.locator("#quality ~ .sentence, section:has(#quality) .sentence")
    expect(record).to_contain_text("Accepted by Banner")
    expect(record).to_contain_text("(PFI ES-3); included angle 127.2° against 127.5°")


def test_welder_procedure_and_heats_stand_weld_by_weld(day, people):
    page = people.at("Kellan", f"/spools/{spool_number(day, '523')}/")
    section = page.locator("section:has(#quality)")
    expect(section.locator("tbody tr").first).to_contain_text("Ruiz")
    section.locator("summary:has-text('Another welder')").click()
    section.locator("select[name=joint]").select_option("2")
    section.locator("select[name=welder]").select_option(label="Banner")
    section.locator("input[name=procedure]").fill("WP-14")
    section.locator("button:has-text('Put the weld down')").click()
    rows = page.locator("section:has(#quality) tbody tr")
    expect(rows.nth(1)).to_contain_text("Banner")
    expect(rows.nth(1)).to_contain_text("WP-14")
    expect(rows.nth(0)).to_contain_text("Ruiz")
    assert events_of(day, "523")[-1] == "weld_by"


def test_a_tap_out_of_order_asks_in_the_words_of_the_floor_and_its_first_answer_writes_both(day, people):
    number = spool_number(day, "503")
    page = people.at("Kellan", f"/spools/{number}/")
    grooved = page.locator(".story li", has_text=re.compile("grooved", re.I)).first
    grooved.locator("summary").click()
    grooved.locator("input[name=reason]").fill("tapped for the wrong spool")
    grooved.locator("button").click()
    expect(page.locator(".story")).to_contain_text("Undone: grooved")
    card = in_hand(people.at("Ruiz", BENCH_1), "503")
    card.locator("button.deed:visible").click()
    asked = card.locator("[data-asked]")
    expect(asked).to_contain_text("Leg B has no groove.")
    expect(asked.locator("[data-no]")).to_have_text("Not yet")
    asked.locator("button:has-text('Grooved already')").click()
    expect(people.pages["Ruiz"].locator("#latest li").first).to_contain_text("503 welded")
    assert events_of(day, "503")[-2:] == ["grooved", "welded"]
    later = day.rows(
        "SELECT entered_later FROM spools_event WHERE spool_id = ? AND code IN ('grooved', 'welded') "
        "ORDER BY number DESC",
        number,
    )
    assert [row[0] for row in later[:2]] == [0, 1]


def test_two_benches_that_both_tell_a_weld_are_for_the_foreman_to_sort_out(day, people):
    other = people.at("Banner", BENCH_2)
    card = in_hand(other, "504")
    hear_nothing(other)
    other.context.set_offline(True)
    card.locator("button.deed:visible").click()
    expect(other.locator("#outbox")).to_contain_text("NOT SENT: 1")
    bench = people.at("Ruiz", BENCH_1)
    in_hand(bench, "504").locator("button.deed:visible").click()
    expect(bench.locator("#latest li").first).to_contain_text("504 welded")
    other.context.set_offline(False)
    expect(other.locator("#outbox")).to_contain_text("already welded by Ruiz")
    expect(other.locator("#outbox")).to_contain_text("the foreman sorts it out")
    assert events_of(day, "504").count("welded") == 1
    assert standing_of(day, "504")[2] == 1
    floor = people.at("Kellan", "/floor/")
    row = floor.locator("#tray li", has_text="504")
    expect(row).to_contain_text("told twice: welded on bench 1 by Ruiz and on bench 2 by Banner")
    row.locator("a").click()
    floor.click("button:has-text('Let go: told twice')")
    expect(floor.locator(".story")).to_contain_text("let go")
    assert standing_of(day, "504")[2] == 0
    expect(people.at("Kellan", "/floor/").locator("#tray li", has_text="504")).to_have_count(0)


def test_a_hold_stops_the_next_step_at_the_bench_and_never_the_clock(day, people):
    number = spool_number(day, "502")
    due = day.rows("SELECT due_at FROM spools_spool WHERE id = ?", number)
    bench = people.at("Ruiz", BENCH_1)
    card = in_hand(bench, "502")
    hear_nothing(bench)
    page = people.at("Kellan", f"/spools/{number}/")
    page.click("summary:has-text('Put on hold')")
    form = page.locator("form:has(input[value=held])")
    form.locator("input[name=reason]").fill("elbow is short radius")
    form.locator("input[name=owner]").fill("Ruiz")
    form.locator("button").click()
    expect(page.locator(".strip", has_text="elbow is short radius")).to_contain_text("On hold")
    assert page.locator("button.deed").count() == 0
    card.locator("button.deed:visible").click()
    expect(bench.locator("#outbox")).to_contain_text("On hold: elbow is short radius")
    assert "welded" not in events_of(day, "502")
    row = people.at("Kellan", "/floor/").locator(f"#held-{number}")
    expect(row).to_contain_text("elbow is short radius")
    expect(row).to_contain_text("Ruiz")
    card = in_hand(people.at("Ruiz", BENCH_1), "502")
    expect(card).to_contain_text("On hold: nothing is tapped until it is let go.")
    assert card.locator("button.deed:visible").count() == 0
    assert "it is your move" in people.told("Ruiz")
    page = people.at("Kellan", f"/spools/{number}/")
    page.click("button:has-text('Let go')")
    expect(page.locator(".story")).to_contain_text("let go")
    assert standing_of(day, "502")[2] == 0
    assert day.rows("SELECT due_at FROM spools_spool WHERE id = ?", number) == due
    expect(in_hand(people.at("Ruiz", BENCH_1), "502").locator("button.deed:visible")).to_contain_text("Welded")


def test_a_fitter_asks_for_what_only_the_foreman_may_do(day, people):
    bench = people.at("Ruiz", BENCH_1)
    card = in_hand(bench, "505")
    card.locator("a:has-text('Not right')").click()
    bench.click("#ask summary")
    bench.select_option("#ask select[name=wants]", "scrapped")
    bench.fill("#ask input[name=reason]", "elbow is out of round")
    bench.click("#ask button:has-text('Ask')")
    expect(bench.locator(".story")).to_contain_text("Asked the foreman to scrap it")
    told = people.told("Kellan")
    assert "Asked the foreman to scrap it by Ruiz: elbow is out of round" in told
    assert "you are asked" in told
    assert standing_of(day, "505")[1] == "welded"


@pytest.mark.parametrize(
    "path", ["/spools/{n}/", "/spools/{n}/rush/", "/benches/stops/", "/notices/", "/stock/bars/1/"]
)
def test_axe_finds_nothing_serious_on_the_pages_of_exceptions(day, people, path):
    page = people.at("Kellan", path.format(n=spool_number(day, "521")))
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert serious(page) == []
