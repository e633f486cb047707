"""A phone that is lost, wet or out of battery costs nobody a day: a second phone takes over what it kept."""

import json

from playwright.sync_api import expect

from tests.browser.field_phone import go, open_book, open_tie_in, queue, wait_for_count, wait_for_mark
from tests.browser.test_field_offline import add_photo, assert_photos_are_whole, fill_in, photo_digests


def saved_file(phone, to):
    """Save the hand-over file of one phone."""
    go(phone, "#/phone")
    with phone.expect_download() as waited:
        phone.click("text=Save as a file")
    waited.value.save_as(to)
    return to


def second_phone(browser, shop, username: str):
    """Another phone with the book open."""
    page = browser.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True).new_page()
    open_book(page, shop, username)
    return page


def take(page, file) -> None:
    """Take over a file."""
    go(page, "#/phone")
    page.set_input_files("#take-over", file)


def test_what_one_phone_kept_is_sent_by_another_once_with_its_photo(browser, phone, open_shop, tmp_path):
    shop = open_shop()
    other = second_phone(browser, shop, "ruiz")
    open_book(phone, shop)
    shop.line.cut()
    for number in range(3):
        open_tie_in(phone, str(101 + number))
        fill_in(phone, number)
        if number == 1:
            add_photo(phone, number)
        phone.click("#keep")
        wait_for_mark(phone, str(102 + number))
    digests = photo_digests(phone)
    file = saved_file(phone, tmp_path / "handed.json")
    take(other, file)
    expect(other.locator("[role=status]").last).to_have_text("Taken over: 3 readings, 1 photo.")
    take(other, file)
    expect(other.locator("[role=status]").last).to_have_text("Taken over: 0 readings, 0 photos; 4 were here already.")
    shop.line.mend()
    other.click("text=Send now")
    wait_for_count(other, "0 kept on this phone, 3 sent")
    expect(other.locator(".bar-count")).not_to_contain_text("photo")
    phone.click("text=Send now")
    wait_for_count(phone, "0 kept on this phone, 3 sent")
    assert shop.rows("SELECT COUNT(*), COUNT(DISTINCT key) FROM spools_reading") == [(3, 3)]
    assert_photos_are_whole(shop, digests)
    other.context.close()


def test_somebody_else_s_readings_are_one_decision(browser, phone, open_shop, tmp_path):
    shop = open_shop()
    other = second_phone(browser, shop, "okafor")
    open_book(phone, shop)
    shop.line.cut()
    for number in range(2):
        open_tie_in(phone, str(101 + number))
        fill_in(phone, number)
        phone.click("#keep")
        wait_for_mark(phone, str(102 + number))
    file = saved_file(phone, tmp_path / "handed.json")
    shop.line.mend()
    take(other, file)
    wait_for_count(other, "0 kept on this phone, 0 sent, 2 ask for a decision")
    go(other, "#/")
    go(other, "#/phone")
    other.click("text=Send all 2 as okafor")
    wait_for_count(other, "0 kept on this phone, 2 sent")
    assert shop.rows("SELECT COUNT(*) FROM spools_reading") == [(2,)]
    other.context.close()


def test_a_file_that_is_none_is_refused_in_words_and_changes_nothing(phone, open_shop, tmp_path):
    open_book(phone, open_shop())
    good = {"kind": "field-book hand-over", "version": 1, "readings": [], "obstacles": [], "photos": []}
    for number, content in enumerate(("no json", "[]", json.dumps(good | {"readings": [{"key": "x"}]}))):
        file = tmp_path / f"{number}.json"
        file.write_text(content)
        take(phone, file)
        expect(phone.locator("[role=status]").last).to_contain_text("This is no hand-over file")
    wait_for_count(phone, "0 kept on this phone, 0 sent")
    assert queue(phone) == []
