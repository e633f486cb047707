"""From an empty reading form to a printed ticket: at most 60 seconds and 12 taps or fields, on a phone."""

import re
import time
from pathlib import Path

import pypdfium2

from tests.browser.signing_in import sign_in

MOST_TAPS = 12
MOST_SECONDS = 60
PAUSE_MS = 400  # between taps, as a person has


class Counted:
    """A page whose taps and filled fields are counted, with a person's pause before each."""

    def __init__(self, page) -> None:
        self.page = page
        self.taps = 0

    def fill(self, selector: str, text: str) -> None:
        """Type into one field."""
        self._count()
        self.page.fill(selector, text)

    def tap(self, selector: str) -> None:
        """Tap one thing."""
        self._count()
        self.page.click(selector)

    def _count(self) -> None:
        self.taps += 1
        self.page.wait_for_timeout(PAUSE_MS)


def test_a_foreman_types_a_reading_and_holds_its_ticket(open_shop, phone, tmp_path: Path):
    shop = open_shop("field_day")
    sign_in(phone, shop, "osei", "/field/")
    mark = phone.locator("main table a.mark").first.inner_text()
    phone.locator("main table a.mark").first.click()
    began = time.monotonic()
    hand = Counted(phone)
    hand.fill("#id_leg_a", "36 1/8")
    hand.fill("#id_leg_b", "22 9/16")
    hand.fill("#id_included", "127.5")
    hand.fill("#id_closing", "53")
    hand.tap("text=Check and keep")
    phone.wait_for_url(re.compile(r"/spools/\d+/"))
    address = phone.get_attribute("a:has-text('Tickets')", "href")
    hand.taps += 1
    answer = phone.request.get(f"{shop.url}{address}")
    seconds = time.monotonic() - began
    file = tmp_path / "tickets.pdf"
    file.write_bytes(answer.body())
    text = pypdfium2.PdfDocument(file)[0].get_textpage().get_text_bounded()
    assert f"{mark}-A" in text
    assert hand.taps <= MOST_TAPS
    assert seconds <= MOST_SECONDS
    print(f"{hand.taps} taps and fields, {seconds:.0f} s")


def test_a_supplement_read_is_named_before_anything_is_kept(open_shop, phone):
    shop = open_shop("field_day")
    sign_in(phone, shop, "ruiz", "/field/")
    phone.locator("main table a.mark").first.click()
    for field, text in (("leg_a", "36 1/8"), ("leg_b", "22 9/16"), ("included", "52.5"), ("closing", "53")):
        phone.fill(f"#id_{field}", text)
    phone.click("text=Check and keep")
    phone.wait_for_selector("text=Keep it for the foreman")
    assert phone.input_value("#id_leg_a") == "36 1/8"
    assert "supplement" in phone.inner_text("main").lower() or "127" in phone.inner_text("main")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
