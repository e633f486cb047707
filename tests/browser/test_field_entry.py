"""Entry made for gloves: few taps, large targets, nothing to scroll sideways, and the mistake named in the hole."""

import time
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.field_phone import BOOK, Glove, Typed, go, open_book, open_tie_in, wait_for_count
from tests.browser.signing_in import sign_in

AXE = Path(__file__).parent / "vendor" / "axe-core-4.14.1" / "axe.min.js"
LEAST_PX = 48
SCREENS = ("#/", "#/jig", "#/phone", "#/check/J1", "#/t/1", "#/cant/1", "#/show")
TARGETS = """() => [...document.querySelectorAll('a, button, select, input:not([type=file])')].map((one) => {
    const target = one.closest('.choices label') ?? one;
    const { width, height } = target.getBoundingClientRect();
    return { words: target.textContent.trim().slice(0, 30) || one.id, width, height };
}).filter(({ width, height }) => width > 0 && height > 0)"""


def test_a_reading_with_its_closing_check_takes_at_most_30_taps_and_90_seconds(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    glove, began = Glove(phone, pause_ms=400), time.monotonic()
    glove.tap(".walk a")
    glove.numbers(Typed())
    glove.keep(Typed())
    took = time.monotonic() - began
    wait_for_count(phone, "0 kept on this phone, 1 sent")
    assert glove.taps <= 30
    assert took <= 90
    assert shop.rows("SELECT closes FROM spools_reading") == [(1,)]


def test_nothing_scrolls_sideways_and_every_target_is_48_px(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    for screen in SCREENS:
        go(phone, screen)
        assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth"), screen
        small = [one for one in phone.evaluate(TARGETS) if min(one["width"], one["height"]) < LEAST_PX - 0.5]
        assert small == [], screen


def test_axe_finds_nothing_serious_on_any_screen(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    source = AXE.read_text(encoding="utf-8")
    for screen in SCREENS:
        go(phone, screen)
        phone.evaluate(source)
        found = phone.evaluate("() => axe.run().then((result) => result.violations)")
        serious = [(one["id"], one["nodes"][0]["html"]) for one in found if one["impact"] in {"serious", "critical"}]
        assert serious == [], screen


def test_the_burned_inches_left_in_are_named_before_anybody_walks_on(phone, open_shop):
    open_book(phone, open_shop())
    open_tie_in(phone, "101")
    glove = Glove(phone)
    glove.numbers(Typed(leg_b=("2", "6", "9/16")))
    expect(phone.locator("#d, #e")).to_have_count(2)  # asked for, because they decide which leg it is
    glove.keys("next", "next")
    expect(phone.locator(".strip.closes")).to_contain_text("Does not close: measure again, most likely")
    expect(phone.locator(".strip.closes")).to_contain_text("the burned inches on leg B")
    expect(phone.locator("#keep")).to_have_text("Keep it for the foreman")


def test_the_turn_written_as_the_included_angle_is_asked_about(phone, open_shop):
    open_book(phone, open_shop())
    open_tie_in(phone, "101")
    glove = Glove(phone)
    glove.keys("3", "6", "1/8", "next", "2", "2", "9/16", "next", "5", "2", ".", "5")
    glove.tap('.bend [data-bend="gentle"]')
    expect(phone.locator(".asks").first).to_contain_text("Was the turn read?")
    glove.tap("text=It is 127.5")
    expect(phone.locator("#included")).to_have_value("127.5")


def test_a_failed_check_locks_the_jig_on_the_phone_at_once(phone, open_shop):
    shop = open_shop()
    sign_in(phone, shop, "ruiz", BOOK)
    phone.wait_for_selector("html[data-stored]")
    shop.line.cut()
    go(phone, "#/check/J1")
    glove = Glove(phone)
    for name, value in (("long-length", "0"), ("long-turn", "-0.75"), ("short-length", "0"), ("short-turn", "-0.75")):
        glove.tap(f'label:has(input[name="{name}"][value="{value}"])')
    glove.tap("#record")
    phone.wait_for_selector("text=OUT OF CHECK")
    expect(phone.locator("text=Use jig J1")).to_have_count(0)
    assert glove.taps <= 12
