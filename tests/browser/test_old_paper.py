"""Old paper read at the shared tablet: the work stops, the answer says what changed and what still serves."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.floor_hands import at_tablet
from tests.browser.old_paper_seeds import OLD
from tests.browser.signing_in import sign_in

AXE = Path(__file__).parent / "vendor" / "axe-core-4.14.1" / "axe.min.js"

# The camera answers with what its detector reads; a real one can't be held before a headless browser.
READS = """
  window.BarcodeDetector = class {
    static async getSupportedFormats() { return ["qr_code"]; }
    async detect() { return [{ rawValue: window.paper }]; }
  };
  navigator.mediaDevices.getUserMedia = async () => {
    const canvas = document.createElement("canvas");
    setInterval(() => canvas.getContext("2d").fillRect(Math.random() * 300, 0, 9, 99), 40);
    return canvas.captureStream(25);
  };
"""


def old_code(shop):
    ((number,),) = shop.rows(
        "SELECT s.id FROM spools_spool s JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? AND s.build = 1",
        OLD,
    )
    return f"S{number}-A"


def stands_still(page):
    expect(page.locator("#old-paper")).to_contain_text("OLD PAPER. STOP.")
    expect(page.locator("#old-paper")).to_contain_text('A is short by 3/8": it does not serve')
    expect(page.locator("#old-paper")).to_contain_text("301 B is made instead")
    expect(page.locator(".hand")).to_have_count(0)


def test_a_ticket_held_before_the_camera_stops_the_work(open_shop, browser):
    shop = open_shop("revised_day")
    hands = at_tablet(browser, shop)
    hands.page.add_init_script(f"window.paper = 'HTTP://127.0.0.1:8000/S/{old_code(shop)}-B';" + READS)
    hands.page.reload()
    hands.sign_on("Ruiz")
    hands.tap("#scan")
    stands_still(hands.page)
    hands.page.wait_for_timeout(4500)  # two polls later nothing has slipped in under the finger
    stands_still(hands.page)
    hands.tap("#old-paper a", has_text="Take 301 B in hand")
    expect(hands.page.locator(".hand:visible .mark.huge")).to_have_text("301 B")
    assert shop.rows("SELECT COUNT(*) FROM spools_event WHERE code = 'welded'") == [(0,)]


@pytest.mark.parametrize("typed", ["code", "301 A", "301-B", "301-E"])
def test_old_paper_typed_at_the_bench_stops_the_work_and_another_mark_goes_on(open_shop, browser, typed):
    shop = open_shop("revised_day")
    hands = at_tablet(browser, shop)
    hands.page.fill("#mark", old_code(shop) if typed == "code" else typed)
    hands.tap("#look-up button", has_text="Take in hand")
    stands_still(hands.page)
    hands.take("302")
    expect(hands.page.locator("#old-paper")).to_have_count(0)


def test_axe_finds_nothing_serious_where_old_paper_answers(open_shop, browser):
    shop = open_shop("revised_day")
    page = browser.new_context(viewport={"width": 820, "height": 1180}).new_page()
    sign_in(page, shop, "kellan", f"/S/{old_code(shop)}")
    for path in (None, f"/benches/1/?mark={old_code(shop)}", "/spools/2/"):
        if path:
            page.goto(shop.url + path)
        page.evaluate(AXE.read_text(encoding="utf-8"))
        found = page.evaluate("() => axe.run().then((result) => result.violations)")
        worst = [(one["id"], one["nodes"][0]["html"]) for one in found if one["impact"] in {"serious", "critical"}]
        assert worst == [], path


@pytest.mark.parametrize("width", [360, 820, 1440])
def test_the_page_of_old_paper_is_readable_without_scrolling_sideways(open_shop, browser, width):
    shop = open_shop("revised_day")
    page = browser.new_context(viewport={"width": width, "height": 900}).new_page()
    sign_in(page, shop, "kellan", f"/S/{old_code(shop)}")
    expect(page.locator(".old-paper .verdict")).to_contain_text("it does not serve")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
