"""Offline from the first visit on: nothing is lost, nothing doubled, nothing changed, whatever the line does."""

import base64
import hashlib
import os
import time

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
    wait_for_draft,
    wait_for_mark,
)

# Legs and closing measure that close at 127.5 included; each reading's note makes it one of its kind.
# A whole day is 200 of them, with 20 photos: FIELD_READINGS=200; every run takes a shorter walk of the same kind.
READINGS = int(os.environ.get("FIELD_READINGS", "40"))
PHOTOS = READINGS // 10
RELOADS_AT = (READINGS // 5, READINGS // 2, READINGS * 4 // 5)
RESTART_AT = READINGS * 3 // 5


def closing_of(page, number: int) -> tuple[str, str, str]:
    """Leg A, leg B and what C should be for them, in sixteenths, as texts."""
    leg_a, leg_b = f'{30 + number % 17}-{1 + 2 * (number % 8)}/16"', f'{24 + number % 13}-1/2"'
    script = """async ([a, b]) => {
        const { parseLength, formatLength } = await import("/static/spools/field/lengths.js");
        const { distanceWithSlopes, radians } = await import("/static/spools/field/adjust.js");
        return formatLength(distanceWithSlopes(parseLength(a), parseLength(b), radians(127.5))[0]);
    }"""
    return leg_a, leg_b, page.evaluate(script, [leg_a, leg_b])


def fill_in(page, number: int) -> dict[str, str]:
    """Type one reading by keyboard into the tie-in in hand, and keep it; returns what was typed."""
    leg_a, leg_b, closing = closing_of(page, number)
    for name, text in (("leg_a", leg_a), ("leg_b", leg_b), ("included", "127.5"), ("closing", closing)):
        page.fill(f"#{name}", text)
    page.press("#closing", "Enter")
    page.locator('.two [data-bend="gentle"]').first.click()
    page.wait_for_selector("#note")
    page.check("input[name=hand][value=left]", force=True)
    page.fill("#note", f"number {number}")
    mark = page.locator("h1.mark").inner_text()
    return {"mark": mark, "leg_a": leg_a, "leg_b": leg_b, "closing": closing, "note": f"number {number}"}


def add_photo(page, number: int) -> None:
    """Take a photo: a picture larger than the phone keeps, so that it is shrunk."""
    picture = page.evaluate(
        """async (number) => {
            const canvas = new OffscreenCanvas(2000, 1200);
            const pen = canvas.getContext("2d");
            for (let x = 0; x < 60; x += 1) {
                pen.fillStyle = `hsl(${(x * 37 + number * 11) % 360} 60% 50%)`;
                pen.fillRect(x * 34, (x * 53) % 900, 300, 300);
            }
            const blob = await canvas.convertToBlob({ type: "image/jpeg" });
            const bytes = new Uint8Array(await blob.arrayBuffer());
            return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
        }""",
        number,
    )
    page.set_input_files(
        "#photo", [{"name": "IMG 1.jpg", "mimeType": "image/jpeg", "buffer": base64.b64decode(picture)}]
    )
    page.wait_for_selector(".photos img")


def photo_digests(page) -> dict[str, str]:
    """SHA-256 of every photo's bytes on the phone, by key."""
    return page.evaluate(
        """async () => {
            const db = await idb.openDB("field-book");
            const rows = (await db.getAll("photos")).filter((row) => row.bytes);
            db.close();
            const text = (byte) => byte.toString(16).padStart(2, "0");
            const hex = (buffer) => Array.from(new Uint8Array(buffer), text).join("");
            const digest = async ({ key, bytes }) => [key, hex(await crypto.subtle.digest("SHA-256", bytes))];
            return Object.fromEntries(await Promise.all(rows.map(digest)));
        }"""
    )


def take_200(page, phone_that_restarts, shop) -> tuple[object, list[dict[str, str]]]:
    """Take all readings and photos with no signal, over three reloads and a restart of the browser."""
    taken = []
    for number in range(READINGS):
        mark = str(101 + number)
        if number in RELOADS_AT:
            page.reload()
        if number == RESTART_AT:
            page = phone_that_restarts().pages[0]
        if number in (0, RESTART_AT, *RELOADS_AT):
            page.goto(f"{shop.url}{BOOK}")
            page.wait_for_selector(".walk li, .values")
            open_tie_in(page, mark)
        wait_for_mark(page, mark)
        taken.append(fill_in(page, number))
        if number % (READINGS // PHOTOS) == 3:
            add_photo(page, number)
        page.click("#keep")
        wait_for_mark(page, str(int(mark) + 1))  # the next one in hand is the page's word that this one is kept
    wait_for_count(page, f"{READINGS} kept on this phone, 0 sent")
    return page, taken


def test_a_walk_of_readings_with_photos_through_reloads_a_restart_and_lost_answers(phone_that_restarts, open_shop):
    shop = open_shop()
    page = phone_that_restarts().pages[0]
    open_book(page, shop)
    shop.line.cut()
    page, taken = take_200(page, phone_that_restarts, shop)
    digests = photo_digests(page)
    assert len(digests) == PHOTOS

    shop.line.loses_every_second = True
    shop.line.mend()
    go(page, "#/phone")
    began = time.monotonic()
    page.click("text=Send now")
    wait_for_count(page, f"0 kept on this phone, {READINGS} sent", seconds=600)
    expect(page.locator(".bar-count")).not_to_contain_text("photo", timeout=300_000)

    print(f"{READINGS} readings with {PHOTOS} photos sent in {time.monotonic() - began:.1f} s")
    assert_first_answers_were_lost(shop, [row["key"] for row in queue(page)])
    assert {row["state"] for row in queue(page)} == {"sent"}
    assert_readings_are_as_typed(shop, taken)
    assert_photos_are_whole(shop, digests)


def assert_first_answers_were_lost(shop, keys: list[str]) -> None:
    """At least half of the answers never came, and every reading was in a request whose answer was lost."""
    lost = b"\n".join(shop.line.lost_requests)
    assert shop.line.lost >= shop.line.passed // 2
    assert [key for key in keys if key.encode() not in lost] == []


def assert_readings_are_as_typed(shop, taken: list[dict[str, str]]) -> None:
    """Every reading once, none twice, none changed."""
    rows = shop.rows(
        "SELECT t.mark, r.leg_a_text, r.leg_b_text, r.included_text, r.closing_text, r.note, r.hand, r.closes,"
        " r.revision FROM spools_reading r JOIN spools_tiein t ON t.id = r.tie_in_id ORDER BY r.taken_at"
    )
    assert rows == [
        (one["mark"], one["leg_a"], one["leg_b"], "127.5", one["closing"], one["note"], "left", 1, 1) for one in taken
    ]
    assert len({row[0] for row in shop.rows("SELECT key FROM spools_reading")}) == READINGS


def assert_photos_are_whole(shop, digests: dict[str, str]) -> None:
    """The bytes on the shop's disk are those that the phone kept."""
    kept = shop.rows("SELECT key, sha256, id, kind FROM spools_photo")
    assert {key: sha for key, sha, *_ in kept} == digests
    for _, sha, number, kind in kept:
        file = shop.var / "media" / "photos" / f"{number}.{kind}"
        assert hashlib.sha256(file.read_bytes()).hexdigest() == sha


def test_the_page_opens_and_lists_the_tie_ins_with_the_server_ended(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.stop()
    phone.goto("about:blank")
    phone.goto(f"{shop.url}{BOOK}")
    phone.wait_for_selector(".walk li")
    expect(phone.locator(".walk li")).to_have_count(40)
    expect(phone.locator("#screen")).to_contain_text("211 of 211 to measure")
    go(phone, "#/phone")
    expect(phone.locator(".this-phone")).to_contain_text("the address is secure")
    expect(phone.locator(".this-phone")).to_contain_text("the page is stored: it opens with no signal")


def test_a_visit_brings_the_new_page_only_when_it_is_whole(phone, open_shop):
    """Every file that the worker names is there; one missing would leave the phone without any."""
    shop = open_shop()
    open_book(phone, shop)
    script = phone.evaluate("fetch('/sw.js').then((answer) => answer.text())")
    names = phone.evaluate(
        """async () => {
            const [name] = (await caches.keys()).filter((key) => key.startsWith("field-book-"));
            return (await (await caches.open(name)).keys()).map((request) => new URL(request.url).pathname);
        }"""
    )
    listed = [name for name in names if f'"{name}"' in script]
    assert sorted(listed) == sorted(names)
    assert BOOK in names


def test_a_half_typed_reading_is_there_after_the_tab_was_closed(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    open_tie_in(phone, "105")
    Glove(phone).keys("3", "6", "1/8", "next", "2", "2")
    wait_for_draft(phone, 5, leg_a="36-1/8", leg_b="22")
    phone.goto("about:blank")
    phone.goto(f"{shop.url}{BOOK}#/t/5")
    phone.wait_for_selector("#leg_b")
    open_tie_in(phone, "105")
    expect(phone.locator("#leg_a")).to_have_value("36-1/8")
    expect(phone.locator("#leg_b")).to_have_value("22")


def test_the_glove_types_the_same_as_the_keyboard(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    open_tie_in(phone, "101")
    glove = Glove(phone)
    glove.numbers(Typed())
    glove.keep(Typed())
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert shop.rows("SELECT leg_a_text, leg_b_text, closing_text, closes FROM spools_reading") == [
        ('36-1/8"', '22-9/16"', '53-1/16"', 1)
    ]
