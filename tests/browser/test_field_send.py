"""When the phone sends: at a press, from two tabs, signed out, without TLS; each reading once and only once."""

from playwright.sync_api import expect

from tests.browser.field_phone import BOOK, choose_jig, go, open_book, open_tie_in, wait_for_count, wait_for_mark
from tests.browser.floor_hands import wait_until
from tests.browser.signing_in import sign_in
from tests.browser.test_field_offline import fill_in

TRIES = 3  # as spools/static/spools/field/send.js


def test_two_tabs_sending_at_once_make_one_row_each(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    for mark in ("101", "102", "103"):
        open_tie_in(phone, mark)
        fill_in(phone, int(mark) - 101)
        phone.click("#keep")
        wait_for_mark(phone, str(int(mark) + 1))
    other = phone.context.new_page()
    other.goto(f"{shop.url}{BOOK}#/phone")
    other.wait_for_selector("text=Send now")
    go(phone, "#/phone")
    shop.line.mend()
    other.click("text=Send now")
    phone.click("text=Send now")
    wait_for_count(phone, "0 kept on this phone, 3 sent")
    wait_for_count(other, "0 kept on this phone, 3 sent")
    assert shop.rows("SELECT COUNT(*), COUNT(DISTINCT key) FROM spools_reading") == [(3, 3)]


def press_send_now_while_a_try_is_under_way(page, shop) -> None:
    """The first press is on its way when the second comes; then every answer to the first is lost, the next is not.

    No try comes by itself: from the second press on the page's timers stand still.
    """
    shop.line.cut()
    open_tie_in(page, "101")
    fill_in(page, 0)
    page.click("#keep")
    wait_for_count(page, "1 kept on this phone, 0 sent")
    go(page, "#/phone")
    asked = []

    def answer(route) -> None:
        asked.append(route)
        if 1 < len(asked) <= TRIES:
            route.abort()
        elif len(asked) > TRIES:
            route.continue_()

    page.route("**/api/v1/readings/batch/", answer)
    shop.line.mend()
    page.click("text=Send now")
    wait_until(page, lambda: asked)
    page.evaluate("globalThis.setTimeout = () => 0")
    page.click("text=Send now")
    assert len(asked) == 1
    asked[0].abort()
    wait_for_count(page, "0 kept on this phone, 1 sent")
    assert len(asked) == TRIES + 1
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(1,)]


def test_a_press_on_send_now_waits_for_a_try_under_way_and_makes_another_at_once(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    press_send_now_while_a_try_is_under_way(phone, shop)


def test_signed_out_it_waits_and_asks_and_is_sent_after_signing_in(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    open_tie_in(phone, "101")
    fill_in(phone, 0)
    phone.context.clear_cookies()
    phone.click("#keep")
    phone.wait_for_selector("text=Sign in")
    wait_for_count(phone, "1 kept on this phone, 0 sent")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(0,)]
    sign_in(phone, shop, "ruiz", BOOK)
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(1,)]


def test_without_tls_the_page_says_so_and_keeps_all_the_same(without_tls, open_shop):
    shop = open_shop()
    page = without_tls
    sign_in(page, shop, "ruiz", BOOK)
    choose_jig(page)
    expect(page.locator("#strips")).to_contain_text("keep this tab open")  # said once every screen is loaded
    shop.line.cut()
    open_tie_in(page, "101")
    fill_in(page, 0)
    page.click("#keep")
    wait_for_count(page, "1 kept")
    shop.line.mend()
    go(page, "#/phone")
    expect(page.locator(".this-phone")).to_contain_text("the address is not secure")
    page.click("text=Send now")
    wait_for_count(page, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(1,)]


def test_without_tls_too_a_press_on_send_now_is_never_swallowed_by_a_try_under_way(without_tls, open_shop):
    shop = open_shop()
    sign_in(without_tls, shop, "ruiz", BOOK)
    choose_jig(without_tls)
    expect(without_tls.locator("#strips")).to_contain_text("keep this tab open")
    press_send_now_while_a_try_is_under_way(without_tls, shop)


def test_a_screen_that_is_not_on_the_phone_yet_says_so_and_comes_with_the_signal(without_tls, open_shop):
    shop = open_shop()
    page = without_tls
    page.route("**/field/entry.js", lambda route: route.abort())
    sign_in(page, shop, "ruiz", BOOK)
    choose_jig(page)
    page.locator(".walk a", has_text="101").first.click()
    page.wait_for_selector("text=This screen is not on the phone yet")
    expect(page.locator("#strips")).to_contain_text("stay where there is signal")
    page.unroute("**/field/entry.js")
    page.click("text=Try again")
    page.wait_for_selector(".pad")
    expect(page.locator("#strips")).to_contain_text("keep this tab open")
