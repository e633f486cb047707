"""What changed meanwhile is shown, and a person decides: nothing is passed over in silence."""

from playwright.sync_api import expect

from tests.browser.field_phone import (
    BOOK,
    Glove,
    Typed,
    go,
    open_book,
    open_tie_in,
    queue,
    wait_for_count,
    wait_for_mark,
)
from tests.browser.signing_in import sign_in
from tests.browser.test_field_offline import add_photo


def keep_offline(phone, shop, mark: str) -> None:
    """Take one reading with no signal."""
    shop.line.cut()
    open_tie_in(phone, mark)
    glove = Glove(phone)
    glove.numbers(Typed())
    glove.keep(Typed())
    wait_for_count(phone, "1 kept on this phone, 0 sent")


def send(phone, shop) -> None:
    """Signal again."""
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")


def hand_over(phone, shop, username: str) -> None:
    """Somebody else takes the phone; the page is left first, so that no request of the one before is under way."""
    phone.goto("about:blank")
    phone.context.clear_cookies()
    shop.line.mend()
    sign_in(phone, shop, username, BOOK)


def test_a_tie_in_that_changed_asks_and_is_sent_once_somebody_says_so(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    keep_offline(phone, shop, "101")
    shop.change("UPDATE spools_tiein SET nps = '8' WHERE mark = '101'")
    send(phone, shop)
    phone.wait_for_selector("text=Still right: send it")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(0,)]
    phone.click("text=Still right: send it")
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(1,)]


def test_a_mark_that_is_gone_asks_for_its_own_mark(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    keep_offline(phone, shop, "101")
    shop.change("UPDATE spools_tiein SET mark = '999', mark_key = '999' WHERE mark = '101'")
    send(phone, shop)
    phone.wait_for_selector("text=Different place: choose its mark")
    assert [row["state"] for row in queue(phone)] == ["asks"]
    phone.click("text=Different place: choose its mark")
    phone.locator(".asks .walk button", has_text="102").first.click()
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT t.mark FROM spools_reading r JOIN spools_tiein t ON t.id = r.tie_in_id") == [("102",)]


def test_somebody_else_signed_in_asks_before_it_goes_under_another_name(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    keep_offline(phone, shop, "101")
    hand_over(phone, shop, "okafor")
    phone.wait_for_selector("text=1 to decide")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(0,)]


def test_what_the_shop_has_already_is_not_asked_about_when_somebody_else_signed_in(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    keep_offline(phone, shop, "101")
    shop.line.loses_every_answer = True
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")
    shop.wait_for_rows("SELECT COUNT(*) FROM spools_reading", [(1,)])
    assert [row["state"] for row in queue(phone)] == ["kept"]
    shop.line.cut()
    shop.line.loses_every_answer = False
    hand_over(phone, shop, "okafor")
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT p.username FROM spools_reading r JOIN spools_person p ON p.id = r.taken_by_id") == [
        ("ruiz",)
    ]


def test_what_cannot_be_measured_is_said_with_no_signal_and_nobody_is_led_there(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    open_tie_in(phone, "101")
    glove = Glove(phone)
    glove.tap("#cannot")
    glove.tap('[data-why="wrong_size"]')
    glove.tap("#report")
    expect(phone.locator("#screen .strip.look")).to_contain_text("Write the size that is there")
    phone.fill("#obstacle-note", "NPS 8 is there")
    glove.tap("#report")
    wait_for_mark(phone, "102")
    wait_for_count(phone, "1 that can't be measured")
    go(phone, "#/")
    phone.wait_for_selector("text=210 of 211 to measure, 1 can't be measured now")
    expect(phone.locator(".walk li").first).to_contain_text("wrong size, not sent")
    send(phone, shop)
    wait_for_count(phone, "0 kept on this phone, 0 sent")
    expect(phone.locator(".bar-count")).not_to_contain_text("measured")
    assert shop.rows("SELECT why, note FROM spools_obstacle") == [("wrong_size", "NPS 8 is there")]
    go(phone, "#/")
    phone.wait_for_selector("text=wrong size, Ruiz")


def say_blocked(phone, mark: str) -> None:
    """Say that a tie-in is blocked, with a photo."""
    open_tie_in(phone, mark)
    phone.click("#cannot")
    phone.click('[data-why="blocked"]')
    add_photo(phone, 1)
    phone.click("#report")
    wait_for_count(phone, "0 kept on this phone, 0 sent; 1 photo and 1 that can't be measured to send")


def test_the_photo_of_what_is_in_the_way_is_kept_and_sent_after_it_once(phone, browser, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    say_blocked(phone, "101")
    (photo,) = queue(phone, "photos")
    shop.line.loses_every_second = True
    send(phone, shop)
    expect(phone.locator(".bar-count")).not_to_contain_text("to send", timeout=60_000)
    shop.line.loses_every_second = False
    kept = shop.rows("SELECT o.why, p.size FROM spools_photo p JOIN spools_obstacle o ON o.id = p.obstacle_id")
    assert kept == [("blocked", photo["length"])]
    foreman = browser.new_context().new_page()
    sign_in(foreman, shop, "osei", "/field/obstacles/")
    shown = foreman.locator("img[alt='Photo of 101']")
    expect(shown).to_have_count(1)
    assert foreman.request.get(f"{shop.url}{shown.get_attribute('src')}").headers["content-type"] == "image/jpeg"


def test_what_is_begun_of_what_cannot_be_measured_is_there_after_the_page_was_lost(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    open_tie_in(phone, "101")
    phone.click("#cannot")
    phone.click('[data-why="wrong_size"]')
    expect(phone.locator('[data-why="wrong_size"]')).to_have_attribute("aria-pressed", "true")
    phone.fill("#obstacle-note", "NPS 8 is there")
    add_photo(phone, 1)
    phone.reload()
    expect(phone.locator('[data-why="wrong_size"]')).to_have_attribute("aria-pressed", "true")
    expect(phone.locator("#obstacle-note")).to_have_value("NPS 8 is there")
    expect(phone.locator(".photos img")).to_have_count(1)


def test_an_obstacle_and_a_jig_check_of_somebody_else_ask_before_they_go_under_another_name(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    check_jig(phone)
    say_blocked_only(phone, "101")
    hand_over(phone, shop, "okafor")
    phone.wait_for_selector("text=2 to decide")
    assert shop.rows("SELECT COUNT(*) FROM spools_obstacle") == [(0,)]
    checks = "SELECT p.username FROM spools_jigcheck c JOIN spools_person p ON p.id = c.by_id ORDER BY c.id DESC"
    before = len(shop.rows(checks))
    go(phone, "#/phone")
    phone.click("text=Send all 2 as okafor")
    expect(phone.locator(".asks")).to_have_count(0)
    shop.wait_for_rows("SELECT COUNT(*) FROM spools_obstacle", [(1,)])
    seen = shop.rows("SELECT p.username FROM spools_obstacle o JOIN spools_person p ON p.id = o.by_id")
    told = shop.rows(checks)
    assert (seen, told[0], len(told)) == ([("okafor",)], ("okafor",), before + 1)


def test_an_obstacle_that_the_shop_has_already_is_not_asked_about(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    say_blocked_only(phone, "101")
    shop.line.loses_every_answer = True
    shop.line.mend()
    go(phone, "#/phone")
    phone.click("text=Send now")
    shop.wait_for_rows("SELECT COUNT(*) FROM spools_obstacle", [(1,)])
    shop.line.cut()
    shop.line.loses_every_answer = False
    hand_over(phone, shop, "okafor")
    expect(phone.locator(".bar-count")).not_to_contain_text("measured", timeout=30_000)
    assert [row["state"] for row in queue(phone, "obstacles")] == ["sent"]
    assert shop.rows("SELECT p.username FROM spools_obstacle o JOIN spools_person p ON p.id = o.by_id") == [("ruiz",)]


def test_what_was_set_aside_can_be_put_back_and_is_sent(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    say_blocked_only(phone, "101")
    hand_over(phone, shop, "okafor")
    phone.click("a:has-text('Decide')")
    phone.locator(".asks").get_by_text("Set aside").click()
    expect(phone.locator(".asks")).to_have_count(0)
    assert shop.rows("SELECT COUNT(*) FROM spools_obstacle") == [(0,)]
    phone.click("text=Put back")
    phone.click("text=Send it as okafor")
    shop.wait_for_rows("SELECT COUNT(*) FROM spools_obstacle", [(1,)])


def say_blocked_only(phone, mark: str) -> None:
    """Say that a tie-in is blocked."""
    open_tie_in(phone, mark)
    phone.click("#cannot")
    phone.click('[data-why="blocked"]')
    phone.click("#report")
    wait_for_count(phone, "1 that can't be measured")


def check_jig(phone) -> None:
    """Check jig J2 on its master: true in both positions."""
    go(phone, "#/check/J2")
    for row in ("long-length", "long-turn", "short-length", "short-turn"):
        phone.locator(f"label:has(input[name={row}][value='0'])").click()
    phone.click("#record")
    wait_for_count(phone, "0 kept on this phone, 0 sent; 1 jig check")
