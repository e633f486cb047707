"""What a hand in a glove does on the field book: open, choose the jig, tap the pad, keep."""

import time
from dataclasses import dataclass, field

from playwright.sync_api import Page, expect

from tests.browser.live_shop import LiveShop
from tests.browser.signing_in import sign_in

BOOK = "/field/book/"
DRAFT_LIMIT_S = 30.0


@dataclass(frozen=True)
class Typed:
    """One reading as keys of the pad; ``bend`` is sharp or gentle."""

    leg_a: tuple[str, ...] = ("3", "6", "1/8")
    leg_b: tuple[str, ...] = ("2", "2", "9/16")
    included: tuple[str, ...] = ("1", "2", "7", ".", "5")
    bend: str = "gentle"
    closing: tuple[str, ...] = ("5", "3", "1/16")
    hand: str = "left"


@dataclass
class Glove:
    """Counts taps and waits after each as a person would; ``pause_ms`` is 0 where only the outcome matters."""

    page: Page
    pause_ms: int = 0
    taps: int = field(default=0)

    def tap(self, selector: str) -> None:
        """One tap."""
        self.page.locator(selector).first.click()
        self.taps += 1
        if self.pause_ms:
            self.page.wait_for_timeout(self.pause_ms)

    def keys(self, *keys: str) -> None:
        """Taps on the pad."""
        for key in keys:
            self.tap(f'.pad [data-key="{key}"]')

    def numbers(self, typed: Typed) -> None:
        """Type legs, included angle and closing measure, each with Next."""
        self.keys(*typed.leg_a, "next", *typed.leg_b, "next", *typed.included)
        self.tap(f'.bend [data-bend="{typed.bend}"]')
        self.keys("next", *typed.closing, "next")

    def keep(self, typed: Typed) -> None:
        """Say hand and up mark, and keep."""
        self.tap(f"label:has(input[name=hand][value={typed.hand}])")
        self.tap("label:has(input[name=up_mark])")
        self.tap("#keep")


def open_book(page: Page, shop: LiveShop, username: str = "ruiz", jig: str = "J1") -> None:
    """Sign in, open the book for the first time, wait until the phone has it, choose the jig."""
    sign_in(page, shop, username, BOOK)
    page.wait_for_selector("html[data-stored]")
    choose_jig(page, jig)


def choose_jig(page: Page, jig: str = "J1") -> None:
    """Choose the jig of the shift."""
    page.click(f"text=Use jig {jig}")
    page.wait_for_selector(".walk li")


def open_tie_in(page: Page, mark: str) -> None:
    """Open one tie-in by its mark."""
    go(page, "#/")
    page.fill("#find", mark)
    page.locator(".walk a", has_text=mark).first.click()
    page.wait_for_selector(".pad, .keep")


def go(page: Page, screen: str) -> None:
    """Go to a screen of the book by its address, and wait until it is drawn."""
    page.evaluate("screen => { location.hash = screen; }", screen)
    page.wait_for_selector(f'html[data-ready="{screen}"]')


def wait_for_count(page: Page, words: str, *, seconds: float = 30) -> None:
    """Wait until the count in sight begins with these words (the page's policy lets no script text be evaluated)."""
    expect(page.locator(".bar-count")).to_contain_text(words, timeout=seconds * 1000)


def wait_for_mark(page: Page, mark: str) -> None:
    """Wait until this tie-in is in hand."""
    expect(page.locator("h1.mark")).to_have_text(mark)


def wait_for_draft(page: Page, tie_in: int, **texts: str) -> None:
    """Wait until what is typed stands in the draft on the phone's disk."""
    until = time.monotonic() + DRAFT_LIMIT_S
    while not any(row["tie_in"] == tie_in and texts.items() <= row["texts"].items() for row in queue(page, "drafts")):
        assert time.monotonic() < until, f"{texts} never reached the disk"
        page.wait_for_timeout(50)


def queue(page: Page, store: str = "readings") -> list[dict]:
    """What the phone holds."""
    return page.evaluate(
        """async (store) => {
            const db = await idb.openDB("field-book");
            const rows = await db.getAll(store);
            db.close();
            return rows.map(({ bytes, ...row }) => ({ ...row, length: bytes?.byteLength ?? null }));
        }""",
        store,
    )
