"""Hands on the floor: a tablet whose taps and page loads are counted, and the people beside it."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.floor_seeds import DIGITS
from tests.browser.live_shop import LiveShop
from tests.browser.signing_in import sign_in

WAIT_LIMIT_S = 30.0
TABLET = {"width": 820, "height": 1180}


@dataclass
class Hands:
    """A page, the taps made on it, and the page loads it has seen."""

    page: Page
    taps: int = 0
    loads: int = 0

    def __post_init__(self) -> None:
        """Count every document that the page loads."""
        self.page.on("framenavigated", lambda frame: self._loaded(frame == self.page.main_frame))

    def _loaded(self, is_page: bool) -> None:  # noqa: FBT001  as playwright tells it
        self.loads += is_page

    def tap(self, selector: str, *, has_text: str | None = None) -> None:
        """Tap the first thing that is seen."""
        self.taps += 1
        self.page.locator(selector, has_text=has_text).locator("visible=true").first.click()

    def sign_on(self, name: str) -> None:
        """Sign somebody on at the tablet: the chip, the name, four digits."""
        self.tap("nav.who-works a.button")
        self.page.wait_for_url(lambda url: urlsplit(url).path == "/tablet/")
        self.tap(".choices label", has_text=name)
        for digit in DIGITS[name]:
            self.tap(f"[data-digit='{digit}']")
        self.page.wait_for_url(lambda url: urlsplit(url).path.startswith("/benches/"))

    def take(self, mark: str) -> None:
        """Take a spool in hand by its mark."""
        self.page.fill("#mark", mark)
        self.tap("#look-up button", has_text="Take in hand")
        expect(self.page.locator(".hand:visible .mark.huge")).to_have_text(mark)


def at_tablet(browser: Browser, shop: LiveShop, username: str = "tablet", path: str = "/benches/1/") -> Hands:
    """Open the shared tablet at a bench."""
    page = browser.new_context(viewport=TABLET, has_touch=True).new_page()
    sign_in(page, shop, username, path)
    return Hands(page)


def wait_until(page: Page, true: Callable[[], Any]) -> None:
    """Wait until something is so; the page goes on meanwhile."""
    until = time.monotonic() + WAIT_LIMIT_S
    while not true():
        assert time.monotonic() < until, "it never became so"
        page.wait_for_timeout(20)


def hold_first(page: Page, address: str) -> list[Route]:
    """Keep the next request to an address on its way; it stands in the list until the test lets it go on."""
    held: list[Route] = []
    page.route(address, lambda route: route.continue_() if held else held.append(route))
    return held


def hear_nothing(page: Page) -> None:
    """From now on the page doesn't follow what others change, as on a line that is slow just then."""
    page.evaluate("document.addEventListener('htmx:beforeRequest', (event) => event.preventDefault(), true)")
    page.evaluate("document.querySelectorAll('#live, #news').forEach((one) => htmx.trigger(one, 'htmx:abort'))")


def events(shop: LiveShop, code: str) -> list[tuple[str, str, str]]:
    """Return mark, name and key of every event of a code, oldest first."""
    return shop.rows(
        "SELECT t.mark, p.last_name, e.key FROM spools_event e JOIN spools_spool s ON s.id = e.spool_id "
        "JOIN spools_tiein t ON t.id = s.tie_in_id JOIN spools_person p ON p.id = e.person_id "
        "WHERE e.code = ? ORDER BY e.id",
        code,
    )
