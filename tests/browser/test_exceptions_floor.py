"""What the foreman settles on the floor, from the first tap to its effects; the tests share one day, in their order."""

import re

from playwright.sync_api import expect

from tests.browser.day_people import events_of, spool_number, standing_of
from tests.browser.exception_seeds import ON_BENCH

DAY = "exceptions_day"


def clock_of(day, mark):
    sql = "SELECT clock_start_at, due_at FROM spools_spool WHERE id = ?"
    return day.rows(sql, spool_number(day, mark))[0]


def rush(page, day, mark, who, when):
    """Rush a spool from its own page."""
    page.goto(f"{day.url}/spools/{spool_number(day, mark)}/")
    page.click("a:has-text('Rush it')")
    page.fill("#asked-by", who)
    page.fill("#by-when", when)


def test_a_rush_shows_what_it_pushes_back_and_comes_first_on_its_bench(day, people):
    page = people.at("Kellan", "/floor/")
    rush(page, day, "506", "Larkfield Civil", "Fri 10:00")
    expect(page.locator("main .sentence")).to_contain_text(re.compile(r"in front of \d+ spools on bench 1"))
    expect(page.locator("tbody")).to_contain_text("501")
    page.click("button:has-text('Rush it, in front of')")
    expect(page.locator(".story")).to_contain_text("Larkfield Civil asked, by Fri 10:00")
    assert standing_of(day, "506")[3] == 1
    first = people.at("Ruiz", "/benches/1/").locator("ol.queue li").first
    expect(first).to_contain_text("506")
    assert "Larkfield Civil asked, by Fri 10:00" in people.told("Dorn")


def test_one_rush_too_many_is_said_before_it_is_one_and_only_the_foreman_may(day, people):
    page = people.at("Kellan", "/floor/")
    rush(page, day, "505", "Larkfield Civil", "Fri 12:00")
    expect(page.locator(".strip.look")).to_contain_text("Too many rushes")
    page.fill("#by-when", " ")
    page.click("button:has-text('Rush it')")
    expect(page.locator(".errorlist")).to_contain_text("Write by when")
    expect(page.locator("#asked-by")).to_have_value("Larkfield Civil")
    page.fill("#by-when", "Fri 12:00")
    page.click("button:has-text('Rush it')")
    expect(page.locator(".chips").first).to_contain_text("rush")
    chip = people.at("Kellan", "/floor/").locator("#stages")
    expect(chip).to_contain_text("2 rush: more than 1 in 10 of")
    assert (
        people.at("Ruiz", f"/spools/{spool_number(day, '501')}/rush/")
        .locator("main")
        .inner_text()
        .count("another role")
    )


def test_a_bench_that_goes_down_offers_its_queue_and_its_hours_are_counted(day, people):
    before = {mark: clock_of(day, mark) for mark in ON_BENCH}
    page = people.at("Kellan", "/floor/")
    bench = page.locator("#bench-1")
    bench.locator("summary").click()
    bench.locator("input[name=reason]").fill("positioner motor")
    bench.locator("button.stop").click()
    expect(page.locator("main")).to_contain_text("Where the queue of bench 1 could go")
    expect(page.locator("tbody tr").first).to_contain_text("the only bench up that takes NPS 6")
    page.click("button:has-text('Put all ticked there')")
    expect(page.locator("main")).to_contain_text("moved")
    assert {standing_of(day, mark)[4] for mark in ON_BENCH} == {2}
    assert {mark: clock_of(day, mark) for mark in ON_BENCH} == before
    assert "Bench 1 is down" in people.told("Ruiz").replace("bench 1", "Bench 1")
    assert "positioner motor" in people.told("Dorn")
    stops = people.at("Kellan", "/benches/stops/")
    expect(stops.locator("tbody tr")).to_contain_text("so far")
    page = people.at("Kellan", "/floor/")
    page.locator("#bench-1 button:has-text('is up again')").click()
    expect(page.locator("main")).to_contain_text("is up")
    expect(people.at("Kellan", "/benches/stops/").locator("main .sentence")).to_contain_text("working hours in 1 stop")
    assert day.rows("SELECT COUNT(*) FROM spools_benchstop WHERE up_at IS NOT NULL") == [(1,)]
    assert "positioner motor" not in people.told("Ruiz")


def test_an_old_tap_is_undone_with_its_reason_and_says_first_what_falls_with_it(day, people):
    page = people.at("Kellan", f"/spools/{spool_number(day, '531')}/")
    line = page.locator(".story li", has_text=re.compile("cut by", re.I)).first
    line.locator("summary").click()
    line.locator("input[name=reason]").fill("ticket of 513 was scanned")
    line.locator("button").click()
    expect(page.locator(".strip.stop")).to_contain_text("It has since been grooved and beveled.")
    assert "undone" not in events_of(day, "531")
    expect(page.locator("form:has(input[name=also]) input[name=reason]")).to_have_value("ticket of 513 was scanned")
    page.click("button:has-text('Undo that too')")
    expect(page.locator(".story")).to_contain_text("Undone: cut")
    assert standing_of(day, "531")[:2] == ("measured", "cut")
    assert day.rows(
        "SELECT COUNT(*) FROM spools_piece WHERE is_cut = 1 AND spool_id = ?", spool_number(day, "531")
    ) == [(0,)]
    assert "your own tap" in people.told("Duvall")


def test_a_scrapped_spool_is_built_again_on_the_old_one_s_clock(day, people):
    before = clock_of(day, "532")
    page = people.at("Kellan", f"/spools/{spool_number(day, '532')}/")
    page.click("summary:has-text('Scrap this build')")
    page.locator("form:has(input[value=scrapped]) input[name=reason]").fill("bent by the fork truck")
    page.locator("form:has(input[value=scrapped]) button").click()
    expect(page.locator("main")).to_contain_text("Nothing is made instead yet")
    floor = people.at("Kellan", "/floor/")
    floor.locator("#tray li", has_text="532").locator("a").click()
    floor.fill("#reason", "built again")
    floor.click("button:has-text('Release')")
    expect(floor.locator("h1")).to_contain_text("532 B")
    assert clock_of(day, "532") == before
    assert events_of(day, "532")[-2:] == ["scrapped", "measured"]
    assert "bent by the fork truck" in people.told("Dorn")


def test_a_jig_that_fails_its_check_puts_its_readings_in_the_tray_until_they_are_held(day, people):
    field = people.at("Okafor", "/field/jig-check/")
    for name, text in (
        ("long_master", "40"),
        ("long_read", "40"),
        ("long_included_off", "0.8"),
        ("short_master", "12"),
        ("short_read", "12"),
        ("short_included_off", "0.6"),
    ):
        field.fill(f"[name={name}]", text)
    field.click("button:has-text('Record the check')")
    expect(field.locator("main")).to_contain_text("out of check")
    floor = people.at("Kellan", "/floor/")
    row = floor.locator("#tray li", has_text="Jig J1")
    expect(row).to_contain_text("built on doubtful readings")
    row.locator("a").click()
    expect(floor.locator("tbody tr").first).to_contain_text(re.compile("welded|beveled"))  # furthest along first
    floor.click("button:has-text('not yet delivered')")
    expect(floor.locator("main")).to_contain_text("on hold until somebody measured again")
    assert standing_of(day, "501")[2] == 1
    expect(people.at("Kellan", "/floor/").locator("#tray li", has_text="Jig J1")).to_have_count(0)
    assert "it is your move" in people.told("Okafor")


def test_a_place_measured_before_is_asked_about_before_anything_is_replaced(day, people):
    ((tie_in,),) = day.rows("SELECT id FROM spools_tiein WHERE mark = '533'")
    field = people.at("Okafor", f"/field/{tie_in}/")
    assert "Jig J1" not in field.locator("#id_set_points").inner_text()  # locked
    for name, text in (("leg_a", "36 1/8"), ("leg_b", "22 9/16"), ("included", "127.5"), ("closing", "53")):
        field.fill(f"#id_{name}", text)
    field.click("button:has-text('Check and keep')")
    expect(field.locator(".strip.stop")).to_contain_text("533 was measured by Fieldhand")
    expect(field.locator("a:has-text('Different place: choose its mark')")).to_be_visible()
    expect(field.locator("#id_leg_a")).to_have_value("36 1/8")
    assert day.rows("SELECT COUNT(*) FROM spools_reading WHERE tie_in_id = ?", tie_in) == [(1,)]
    field.click("button:has-text('Measured again')")
    expect(field.locator("main")).to_contain_text("reading B")
    assert day.rows("SELECT COUNT(*) FROM spools_reading WHERE tie_in_id = ?", tie_in) == [(2,)]


def test_an_odd_size_needs_both_measures_and_the_foreman_s_yes(day, people):
    field = people.at("Okafor", "/jobs/1/tie-ins/new/")
    for name, text in (("mark", "541"), ("station", "14+10"), ("odd_od", "5.25")):
        field.fill(f"#id_{name}", text)
    for name, choice in (("bend_kind", "miter"), ("end_b", "plain")):
        field.select_option(f"#id_{name}", choice)
    field.click("main button.main")
    expect(field.locator("main")).to_contain_text("Measure the wall too.")
    expect(field.locator("#id_odd_od")).to_have_value("5.25")
    field.fill("#id_odd_wall", "0.25")
    field.click("main button.main")
    field.wait_for_url(re.compile(r"/field/\d+/$"))
    assert day.rows("SELECT nps, schedule FROM spools_tiein WHERE mark = '541'") == [("OD 5.25", "W 0.25")]
    for name, text in (("leg_a", "36 1/8"), ("leg_b", "22 9/16"), ("included", "127.5"), ("closing", "53")):
        field.fill(f"#id_{name}", text)
    field.click("button:has-text('Check and keep')")
    expect(field.locator("main")).to_contain_text("It waits for the foreman's yes.")
    field.click("button:has-text('Keep it for the foreman')")
    expect(field.locator("main")).to_contain_text("It waits for the foreman.")
    floor = people.at("Kellan", "/floor/")
    row = floor.locator("#tray li", has_text="541")
    expect(row).to_contain_text("Odd size: 5.25 in OD, 0.25 in wall")
    row.locator("a").click()
    floor.fill("#reason", "old line, measured twice")
    floor.click("button:has-text('Release')")
    expect(floor.locator("h1")).to_contain_text("541")
    assert standing_of(day, "541")[1] == "cut"
