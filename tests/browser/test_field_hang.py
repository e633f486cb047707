"""Hanging with no signal: a spool fits or it doesn't, said in two or three taps, kept with its photo, sent once."""

from playwright.sync_api import expect

from tests.browser.day_people import events_of, spool_number, standing_of
from tests.browser.field_phone import BOOK, Glove, Typed, go, queue, wait_for_count, wait_for_mark
from tests.browser.floor_hands import wait_until
from tests.browser.signing_in import sign_in
from tests.browser.test_field_offline import add_photo

DAY = "loads_day"


def open_offline(phone, shop) -> None:
    """The crew's phone with the book on it and no signal; no jig is chosen, for hanging needs none."""
    sign_in(phone, shop, "okafor", BOOK)
    phone.wait_for_selector("html[data-stored]")
    shop.line.cut()


def open_spool(phone, mark: str) -> None:
    """Open one spool by its mark, from whatever screen is there."""
    phone.click("text=To hang")
    phone.fill("#find", mark)
    phone.locator(".walk a", has_text=mark).first.click()
    wait_for_mark(phone, mark)


def test_doesnt_fit_is_said_in_the_hole_with_a_photo_and_the_shop_has_it_once(phone, open_shop):
    shop = open_shop(DAY)
    open_offline(phone, shop)
    open_spool(phone, "633")
    glove = Glove(phone)
    glove.tap("#misfit")
    glove.tap("#report")
    expect(phone.locator(".strip.look").last).to_contain_text("Tap how it doesn't fit")
    glove.tap('[data-how="long"]')
    expect(phone.locator('[data-how="long"]')).to_have_attribute("aria-pressed", "true")  # drawn anew, the note too
    phone.fill("#fit-note", "3/8 in at the drain")
    add_photo(phone, 1)
    phone.reload()  # the camera took the page's memory: what was begun is there
    expect(phone.locator('[data-how="long"]')).to_have_attribute("aria-pressed", "true")
    expect(phone.locator("#fit-note")).to_have_value("3/8 in at the drain")
    expect(phone.locator(".photos img")).to_have_count(1)
    glove.tap("#report")
    wait_for_count(phone, "1 photo and 1 spool hung to send")
    assert events_of(shop, "633").count("misfit") == 0
    shop.line.loses_every_second = True
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")
    expect(phone.locator(".bar-count")).not_to_contain_text("to send", timeout=60_000)
    assert events_of(shop, "633").count("misfit") == 1
    assert standing_of(shop, "633")[2] == 1
    (reason,) = shop.rows("SELECT reason FROM spools_event WHERE code = 'misfit'")[0]
    assert reason == "too long; 3/8 in at the drain"
    photos = shop.rows("SELECT e.code FROM spools_photo p JOIN spools_event e ON e.id = p.event_id")
    assert photos == [("misfit",)]


def test_the_new_reading_made_on_the_spot_builds_it_again(phone, open_shop):
    shop = open_shop(DAY)
    sign_in(phone, shop, "okafor", BOOK)
    phone.wait_for_selector("html[data-stored]")
    phone.click("text=Use jig J1")
    phone.wait_for_selector("h1:has-text('To measure')")
    shop.line.cut()
    open_spool(phone, "633")
    glove = Glove(phone)
    glove.tap("#misfit")
    glove.tap('[data-how="short"]')
    glove.tap("#report")
    wait_for_mark(phone, "633")
    phone.wait_for_selector(".pad")
    expect(phone.locator("[aria-label='Measured before']")).to_have_count(0)  # why it is measured again is said
    glove.numbers(Typed())
    glove.keep(Typed())
    wait_for_count(phone, "1 kept on this phone, 0 sent")
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    old = spool_number(shop, "633", live=False)
    new = shop.rows("SELECT replaces_id, build FROM spools_spool WHERE id = ?", spool_number(shop, "633"))
    assert new == [(old, 2)]


def test_fits_is_two_taps_from_the_list_and_the_spool_leaves_it(phone, open_shop):
    shop = open_shop(DAY)
    open_offline(phone, shop)
    phone.click("text=To hang: 5")
    glove = Glove(phone)
    glove.tap(".walk a")
    glove.tap("#fits")
    expect(phone.locator(".strip.told").first).to_contain_text("631 fits: kept on this phone")
    expect(phone.locator(".rows")).to_contain_text("4 of 5 to hang")
    assert glove.taps == 2
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")
    expect(phone.locator(".bar-count")).not_to_contain_text("to send")
    assert events_of(shop, "631")[-1] == "fits"
    go(phone, "#/hang")
    expect(phone.locator(".rows")).to_contain_text("4 of 4 to hang")


def test_what_somebody_else_said_meanwhile_is_for_a_person_to_decide(phone, browser, open_shop):
    shop = open_shop(DAY)
    open_offline(phone, shop)
    open_spool(phone, "634")
    phone.click("#fits")
    phone.context.set_offline(True)
    shop.line.mend()
    desk = browser.new_context().new_page()
    sign_in(desk, shop, "kellan", f"/spools/{spool_number(shop, '634')}/")
    desk.click("summary:has-text('Does not fit on site')")
    desk.fill("form:has([value=misfit]) input[name=reason]", "hits the bracket")
    desk.click("button:has-text('Does not fit')")
    desk.wait_for_load_state()
    phone.context.set_offline(False)
    go(phone, "#/phone")
    phone.click("text=Send now")
    expect(phone.locator(".asks")).to_contain_text("hits the bracket, said Kellan")
    assert "fits" not in events_of(shop, "634")
    phone.click("button:has-text('Say it all the same')")
    expect(phone.locator(".asks")).to_have_count(0)
    shop.wait_for_rows("SELECT COUNT(*) FROM spools_event WHERE code = 'fits'", [(1,)])
    wait_until(phone, lambda: [row["state"] for row in queue(phone, "fits")] == ["sent"])


def test_nothing_scrolls_sideways_and_every_target_is_48_px_and_axe_finds_nothing(phone, open_shop):
    from tests.browser.test_field_entry import AXE, LEAST_PX, TARGETS

    shop = open_shop(DAY)
    open_offline(phone, shop)
    number = spool_number(shop, "631")
    for screen in ("#/hang", f"#/hang/{number}", "misfit"):
        if screen == "misfit":
            phone.click("#misfit")
            phone.wait_for_selector('[data-how="long"]')
        else:
            go(phone, screen)
        assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth"), screen
        small = [one for one in phone.evaluate(TARGETS) if min(one["width"], one["height"]) < LEAST_PX - 0.5]
        assert small == [], screen
        phone.evaluate(AXE.read_text(encoding="utf-8"))
        found = phone.evaluate("() => axe.run().then((result) => result.violations)")
        serious = [(one["id"], one["nodes"][0]["html"]) for one in found if one["impact"] in {"serious", "critical"}]
        assert serious == [], screen
