"""The shared tablet: name and four digits once a shift, one tap a weld, no page loads, and no tap lost or doubled."""

from playwright.sync_api import expect

from tests.browser.floor_hands import at_tablet, events, hear_nothing, hold_first, wait_until


def test_name_and_four_digits_sign_on_and_one_tap_welds_for_that_name(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    expect(hands.page.locator(".hand:visible")).to_contain_text("Sign on to record it")
    hands.sign_on("Ruiz")
    assert hands.taps == 6  # the chip, the name, four digits
    hands.taps = hands.loads = 0
    for mark, following in (("301", "302"), ("302", "303")):
        expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text(mark)
        hands.tap(".hand button.deed")
        expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text(following)
    expect(hands.page.locator("#latest li").first).to_contain_text("302 welded")
    assert (hands.taps, hands.loads) == (2, 0)
    assert [(mark, name) for mark, name, _ in events(shop, "welded")] == [("301", "Ruiz"), ("302", "Ruiz")]


def test_pressing_a_name_makes_the_next_tap_theirs(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    hands.sign_on("Ruiz")
    hands.sign_on("Banner")
    hands.tap("[data-names] button", has_text="Ruiz")
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#latest li").first).to_contain_text("301 welded")
    hands.tap("[data-names] button", has_text="Banner")
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#latest li").first).to_contain_text("302 welded")
    assert [(mark, name) for mark, name, _ in events(shop, "welded")] == [("301", "Ruiz"), ("302", "Banner")]


def test_wrong_digits_are_refused_and_the_fifth_time_locked(open_shop, browser):
    shop = open_shop("floor_day")
    page = at_tablet(browser, shop, path="/tablet/").page
    for attempt in range(5):
        page.locator(".choices label", has_text="Ruiz").click()
        for digit in "9999":
            page.locator(f"[data-digit='{digit}']").click()
        if attempt < 4:
            expect(page.get_by_role("alert")).to_contain_text("not the four digits")
    expect(page.locator("main")).to_contain_text("wrong")
    expect(page.locator("#sign-on")).to_have_count(0)


def test_taps_without_network_wait_and_go_once_each_in_their_order(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    hands.sign_on("Ruiz")
    hands.loads = 0
    shop.line.cut()
    for mark in ("301", "302", "303"):
        expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text(mark)
        hands.tap(".hand button.deed")
    expect(hands.page.locator("#outbox")).to_contain_text("NOT SENT: 3")
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("304")
    assert events(shop, "welded") == []
    shop.line.loses_every_second = True
    shop.line.mend()
    expect(hands.page.locator("#latest")).to_contain_text("303 welded", timeout=60_000)
    expect(hands.page.locator("#outbox [data-unsent]")).to_have_count(0)
    assert [mark for mark, _, _ in events(shop, "welded")] == ["301", "302", "303"]
    assert shop.line.lost >= 3
    assert hands.loads == 0


def test_taps_kept_without_network_survive_a_closed_page(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    hands.sign_on("Ruiz")
    shop.line.cut()
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#outbox")).to_contain_text("NOT SENT: 1")
    context = hands.page.context
    hands.page.close()
    shop.line.mend()
    again = context.new_page()
    again.goto(f"{shop.url}/benches/1/")
    expect(again.locator("#latest li").first).to_contain_text("301 welded")
    assert len(events(shop, "welded")) == 1


def test_undo_takes_one_tap_in_place(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    hands.sign_on("Ruiz")
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#latest li").first).to_contain_text("301 welded")
    hands.taps = hands.loads = 0
    hands.tap("#latest button", has_text="Undo")
    expect(hands.page.locator("#latest")).not_to_contain_text("301 welded")
    expect(hands.page.locator(".hand[data-spool] .mark.huge", has_text="301")).to_have_count(1)
    assert (hands.taps, hands.loads) == (1, 0)
    assert len(events(shop, "undone")) == 1


def test_c_reads_good_or_over_as_it_is_typed_and_goes_with_the_weld(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop, username="ruiz")
    field = hands.page.locator(".hand:visible input[name=check]")
    must_be = float(field.get_attribute("data-check-mm"))
    field.fill(f"{must_be + 6:.2f} mm")
    expect(hands.page.locator(".hand:visible .reads")).to_have_text('1/4" over.')
    field.fill(f"{must_be + 0.5:.2f} mm")
    expect(hands.page.locator(".hand:visible .reads")).to_have_text("Good.")
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#latest li").first).to_contain_text("301 welded")
    ((details,),) = shop.rows("SELECT details FROM spools_event WHERE code = 'welded'")
    assert f"{must_be + 0.5:.2f}"[:6] in details


def test_another_person_accepts_and_c_out_of_tolerance_asks_for_a_reason(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop)
    hands.sign_on("Ruiz")
    hands.tap(".hand button.deed")
    expect(hands.page.locator("#latest li").first).to_contain_text("301 welded")
    hands.take("301")
    expect(hands.page.locator(".hand:visible")).to_contain_text("somebody else looks and measures")
    hands.sign_on("Banner")
    hands.take("301")
    field = hands.page.locator(".hand:visible input[name=check]")
    must_be = float(field.get_attribute("data-check-mm"))
    field.fill(f"{must_be + 12:.1f} mm")
    hands.tap(".hand button.deed")
    expect(hands.page.locator(".hand:visible [data-asked]")).to_contain_text("over")
    hands.page.locator(".hand:visible [data-asked] input").fill("saddle end dressed on site")
    hands.tap("[data-yes]")
    expect(hands.page.locator("#latest li").first).to_contain_text("301 accepted")
    assert [(mark, name) for mark, name, _ in events(shop, "accepted")] == [("301", "Banner")]


def test_two_tablets_at_one_spool_and_the_second_is_told_who_was_first(open_shop, browser):
    shop = open_shop("floor_day")
    one, other = at_tablet(browser, shop), at_tablet(browser, shop)
    one.sign_on("Ruiz")
    other.sign_on("Banner")
    hear_nothing(other.page)
    other.page.context.set_offline(True)
    other.tap(".hand button.deed")
    expect(other.page.locator("#outbox")).to_contain_text("NOT SENT: 1")
    one.tap(".hand button.deed")
    expect(one.page.locator("#latest li").first).to_contain_text("301 welded")
    other.page.context.set_offline(False)
    expect(other.page.locator("#outbox")).to_contain_text("already welded by Ruiz")
    assert len(events(shop, "welded")) == 1


def test_a_spool_asked_for_while_the_page_is_being_renewed_comes_in_hand_all_the_same(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop, username="ruiz")
    held = hold_first(hands.page, "**/benches/1/")
    wait_until(hands.page, lambda: held)  # a poll is under way
    hands.page.fill("#mark", "311")  # on no bench yet
    hands.tap("#look-up button", has_text="Take in hand")
    shop.change("UPDATE spools_spool SET last_number = last_number + 1, rush = 1 WHERE id = 2")
    held[0].continue_()
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("311", timeout=7_000)


def test_what_is_typed_on_a_spool_stands_when_somebody_else_changes_it_meanwhile(open_shop, browser):
    shop = open_shop("floor_day")
    hands = at_tablet(browser, shop, username="ruiz")
    field = hands.page.locator(".hand:visible input[name=check]")
    field.press_sequentially("53 1/1")
    shop.change("UPDATE spools_spool SET last_number = last_number + 1, rush = 1 WHERE id = 1")
    expect(hands.page.locator(".hand:visible .chip", has_text="rush")).to_be_visible()
    expect(field).to_have_value("53 1/1")
    hands.page.keyboard.type("6")  # the hand goes on typing
    expect(field).to_have_value("53 1/16")


def accepting_what_is_off(open_shop, browser):
    """301 is welded by Ruiz; Banner accepts it with C far off, and the shop's answer to that is held back."""
    shop = open_shop("floor_day")
    welder = at_tablet(browser, shop, username="ruiz")
    welder.tap(".hand button.deed")
    expect(welder.page.locator("#latest li").first).to_contain_text("301 welded")
    welder.page.close()
    hands = at_tablet(browser, shop, username="banner")
    hands.take("301")
    field = hands.page.locator(".hand:visible input[name=check]")
    field.fill(f"{float(field.get_attribute('data-check-mm')) + 12:.1f} mm")
    held = hold_first(hands.page, "**/benches/1/tap/")
    hands.tap(".hand button.deed")
    wait_until(hands.page, lambda: held)
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("302")
    return hands, held[0]


def test_a_question_comes_to_whoever_waits_for_it_however_slow_the_line(open_shop, browser):
    hands, answer = accepting_what_is_off(open_shop, browser)
    hands.page.evaluate("const now = Date.now; Date.now = () => now() + 60000")  # a minute goes by
    answer.continue_()
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("301")
    expect(hands.page.locator(".hand:visible [data-asked]")).to_contain_text("over")


def test_a_question_takes_nothing_out_of_the_hand_of_whoever_has_turned_to_the_next_spool(open_shop, browser):
    hands, answer = accepting_what_is_off(open_shop, browser)
    field = hands.page.locator(".hand:visible input[name=check]")
    field.press_sequentially("53")
    answer.continue_()
    expect(hands.page.locator("#outbox")).to_contain_text("Asks")
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("302")
    expect(field).to_have_value("53")
