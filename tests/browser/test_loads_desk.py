"""What goes wrong at the galvanizer, settled at the desk, from the first tap to its effects; one day, in order."""

from playwright.sync_api import expect

from tests.browser.day_people import events_of, spool_number, standing_of

DAY = "loads_day"
CLOCK = "SELECT clock_start_at, due_at FROM spools_spool WHERE id = ?"


def live_builds(day, mark: str) -> list[tuple]:
    sql = (
        "SELECT s.build, s.next_step FROM spools_spool s JOIN spools_tiein t ON t.id = s.tie_in_id "
        "WHERE t.mark = ? AND s.live = 1"
    )
    return day.rows(sql, mark)


def test_what_is_not_back_after_its_day_is_said_and_becomes_missing_with_a_claim(day, people):
    page = people.at("Quist", "/loads/")
    expect(page.locator(".strip.look")).to_contain_text("Load 2: 2 not back")
    page.click(".strip.look a.button")
    expect(page.locator(".strip.look")).to_contain_text("Not back: 2")
    page.click("summary:has-text('Not here')")
    page.select_option("details[open] select[name=spool]", str(spool_number(day, "621")))
    page.fill("details[open] input[name=reason]", "the counter has no line for it")
    page.click("button.stop:has-text('Missing')")
    expect(page.locator("main")).to_contain_text("Missing 1")
    assert events_of(day, "621")[-1] == "missing"
    claim = page.locator("a:has-text('Claim sheet')").get_attribute("href")
    assert page.request.get(f"{day.url}{claim}").body().startswith(b"%PDF")
    assert "the counter has no line for it" in people.told("Kellan")


def test_the_foreman_starts_the_replacement_which_keeps_the_clock_and_is_first_at_the_saw(day, people):
    lost = spool_number(day, "621")
    page = people.at("Kellan", "/loads/2/")
    page.click("button:has-text('Start the replacement of 621')")
    expect(page.locator("main")).to_contain_text("621 B is to be cut")
    new = spool_number(day, "621")
    assert live_builds(day, "621") == [(2, "cut")]
    assert day.rows(CLOCK, new) == day.rows(CLOCK, lost)
    assert standing_of(day, "621")[3] == 1  # a rush
    assert "621 B" in people.at("Kellan", "/floor/rush/").inner_text("main")


def test_the_old_one_turns_up_as_a_spare_and_never_as_a_second_live_build(day, people):
    page = people.at("Quist", "/loads/2/")
    page.click("button:has-text('621 turned up')")
    expect(page.locator(".strip.told", has_text="621 is a spare")).to_be_visible()
    assert live_builds(day, "621") == [(2, "cut")]
    assert "621" not in people.at("Quist", "/loads/new/?kind=site").inner_text("main")
    page = people.at("Kellan", "/loads/2/")
    page.click("button:has-text('Use the old one, scrap 621 B')")
    expect(page.locator("main")).to_contain_text("621 counts again; its replacement is scrapped.")
    assert live_builds(day, "621") == [(1, "delivered")]
    story = people.at("Kellan", f"/spools/{spool_number(day, '621')}/").inner_text(".story")
    assert story.index("turned up again; its replacement is scrapped") < story.index("Turned up again")


def test_a_damaged_spool_is_counted_and_stops_until_the_foreman_dips_it_again(day, people):
    page = people.at("Quist", "/loads/2/")
    page.click("summary:has-text('Damaged')")
    page.select_option("details[open] select[name=spool]", str(spool_number(day, "622")))
    page.select_option("details[open] select[name=how]", "seat")
    page.click("button.stop:has-text('Damaged')")
    expect(page.locator("main")).to_contain_text("it stops until the foreman decides")
    assert standing_of(day, "622")[1:3] == ("delivered", 1)
    assert "622" not in people.at("Quist", "/loads/new/?kind=site").inner_text("main")
    assert "runs or lumps in a gasket seat" in people.told("Kellan")
    page = people.at("Kellan", f"/spools/{spool_number(day, '622')}/")
    page.click("summary:has-text('Coating rejected')")
    page.select_option("details[open] select[name=defect]", "seat")
    page.click("button.stop:has-text('dip it again')")
    expect(page.locator(".next-step")).to_contain_text("Send to coating")
    assert standing_of(day, "622")[1:3] == ("at_coating", 0)
    expect(people.at("Quist", "/loads/new/?kind=coating").locator(".to-load")).to_contain_text("622")
    assert "strip it and dip it again" in people.told("Quist")


def test_a_coating_touched_up_waits_and_goes_to_site_when_it_is_let_go(day, people):
    page = people.at("Kellan", f"/spools/{spool_number(day, '641')}/")
    page.click("summary:has-text('Coating rejected')")
    page.select_option("details[open] select[name=defect]", "bare")
    page.click("button:has-text('Touch it up here')")
    expect(page.locator("button.main:has-text('Let go: touch up the zinc')")).to_be_visible()
    assert "641" not in people.at("Quist", "/loads/new/?kind=site").inner_text("main")
    page = people.at("Kellan", f"/spools/{spool_number(day, '641')}/")
    page.click("button.main:has-text('Let go: touch up the zinc')")
    expect(people.at("Quist", "/loads/new/?kind=site").locator(".to-load")).to_contain_text("641")


def test_a_load_too_heavy_for_one_truck_is_proposed_in_trips_and_the_second_is_sent_later(day, people):
    day.change("UPDATE spools_shop SET truck_lb = 120")
    page = people.at("Quist", "/loads/new/?kind=coating")
    expect(page.locator("main")).to_contain_text("3 trips, the first is ticked")
    expect(page.locator("#load-says")).to_contain_text("1 spool,")
    page.locator(".to-load input[type=checkbox]").nth(1).check()
    page.click("button.main:has-text('Load the ticked ones')")
    expect(page.locator("main")).to_contain_text("1 wait for a later trip")
    page.click("button.main:has-text('Trip 2 leaves')")
    expect(page.locator("main")).to_contain_text("Trip 2 is on its way.")
    lines = day.rows("SELECT trip FROM spools_loadline WHERE load_id = 5 AND left_at IS NOT NULL ORDER BY trip")
    assert lines == [(1,), (2,)]
    day.change("UPDATE spools_shop SET truck_lb = 9000")


def test_weights_out_and_back_say_what_they_can_and_can_not_tell(day, people):
    page = people.at("Quist", "/loads/1/")
    black = day.rows(
        "SELECT SUM(s.black_kg) FROM spools_loadline l JOIN spools_spool s ON s.id = l.spool_id WHERE l.load_id = 1"
    )[0][0]
    page.fill("input[name=net]", f"{black / 0.45359237:.0f}")
    page.click("button:has-text('That is the weight out')")
    expect(page.locator(".weighed").last).to_contain_text("The weight agrees with the count")
    boxes = page.locator(".tally input[type=checkbox]")
    for place in range(boxes.count()):
        boxes.nth(place).check()
    page.click("button.main:has-text('Ticked ones are back')")
    expect(page.locator("main")).to_contain_text("All accounted for.")
    page.fill("input[name=net]", f"{black * 0.5 / 0.45359237:.0f}")
    page.click("button:has-text('That is the weight back')")
    last = page.locator(".weighed li").last
    expect(last).to_contain_text("3 spools of the average weight, or thin coats")
    expect(last).to_contain_text("It can't tell less than")
    expect(last).to_contain_text("One lost spool of")
