"""Cut off the moment after KEEP, whatever way: the reading is kept whole, or its draft is there whole."""

import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright

from tests.browser.conftest import ARGS, CHROMIUM
from tests.browser.field_phone import BOOK, open_book, open_tie_in, queue
from tests.browser.live_shop import LiveShop
from tests.browser.test_field_offline import add_photo, fill_in

# How long after the tap the cut comes, in ms: from before the write begins to after its end.
AFTER_MS = (0, 0, 2, 5, 10, 20, 60)


@pytest.fixture
def dying_phone(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[[], Page]]:
    """Start a browser on a profile that outlives it; a new start ends the one before as a dead battery does."""
    running: list[subprocess.Popen[bytes]] = []
    profile = tmp_path / "profile"

    def die() -> None:
        while running:
            process = running.pop()
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()

    def start() -> Page:
        die()
        told = profile / "DevToolsActivePort"
        told.unlink(missing_ok=True)
        where = [f"--user-data-dir={profile}", "--window-size=360,740", "about:blank"]
        command = [CHROMIUM, "--headless=new", "--remote-debugging-port=0", "--no-first-run", *ARGS, *where]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        running.append(subprocess.Popen(command, start_new_session=True, **quiet))
        until = time.monotonic() + 60
        while not told.exists() or "\n" not in told.read_text():
            assert time.monotonic() < until, "the browser did not start"
            time.sleep(0.05)
        browser = playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{told.read_text().split()[0]}")
        return browser.contexts[0].pages[0]

    yield start
    die()


def take_up(page: Page, shop: LiveShop, mark: str, number: int) -> dict[str, str]:
    """Fill in one tie-in with a photo, up to the tap on KEEP."""
    page.goto(f"{shop.url}{BOOK}")
    page.wait_for_selector(".walk li, .values")
    open_tie_in(page, mark)
    typed = fill_in(page, number)
    add_photo(page, number)
    return typed


def assert_kept_or_drafted_whole(page: Page, shop: LiveShop, typed: dict[str, str]) -> str:
    """Open the book again and find all that was typed and the photo in one of the two places, never in both."""
    page.goto(f"{shop.url}{BOOK}")
    page.wait_for_selector(".walk li, .values")
    tie_in = int(typed["mark"]) - 100
    (row,) = [one for one in [*queue(page, "readings"), *queue(page, "drafts")] if one["tie_in"] == tie_in]
    kept = row.get("state") == "kept"
    (photo,) = [one for one in queue(page, "photos") if one["reading_key"] == row["key"]]
    assert photo["state"] == ("kept" if kept else "draft")
    assert photo["length"] > 10_000
    texts = [row["texts"][name].removesuffix('"') for name in ("leg_a", "leg_b", "included", "closing")]
    leg_a, leg_b, closing = (typed[name].removesuffix('"') for name in ("leg_a", "leg_b", "closing"))
    assert texts == [leg_a, leg_b, "127.5", closing]
    assert (row["hand"], row["note"]) == ("left", typed["note"])
    return "kept" if kept else "draft"


def test_the_browser_killed_right_after_keep_leaves_the_reading_or_its_draft_whole(dying_phone, open_shop):
    shop = open_shop()
    page = dying_phone()
    open_book(page, shop)
    shop.line.cut()
    for number, after_ms in enumerate(AFTER_MS):
        typed = take_up(page, shop, str(101 + number), number)
        page.evaluate("document.getElementById('keep').click()")
        time.sleep(after_ms / 1000)
        page = dying_phone()
        assert_kept_or_drafted_whole(page, shop, typed)


def test_the_tab_closed_right_after_keep_leaves_the_reading_or_its_draft_whole(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    for number in range(4):
        tab = phone.context.new_page()
        typed = take_up(tab, shop, str(101 + number), number)
        tab.evaluate("document.getElementById('keep').click()")
        tab.close()
        assert_kept_or_drafted_whole(phone, shop, typed)


def test_a_draft_that_was_cut_off_is_finished_by_keep(phone, open_shop):
    """Whatever the cut left is taken up where it was: the same key, so it can never become two readings."""
    shop = open_shop()
    open_book(phone, shop)
    shop.line.cut()
    typed = take_up(phone, shop, "101", 0)
    (draft,) = queue(phone, "drafts")
    phone.goto("about:blank")
    phone.goto(f"{shop.url}{BOOK}#/t/1")
    phone.click("#keep")
    phone.wait_for_selector("text=101 is kept on this phone")
    assert assert_kept_or_drafted_whole(phone, shop, typed) == "kept"
    assert [row["key"] for row in queue(phone)] == [draft["key"]]
