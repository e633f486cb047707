"""How long the field book takes to be ready with no network and the CPU throttled four times.

python -m tests.benchmarks.field_ready
"""

import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright, sync_playwright

from tests.browser.conftest import ARGS, CHROMIUM, PHONE
from tests.browser.field_phone import BOOK, open_book
from tests.browser.live_shop import copied, run_python

TIMES = 9
RATE = 4
READY = """() => new Promise((done) => {
    const look = () => (document.documentElement.dataset.ready ? done(performance.now()) : requestAnimationFrame(look));
    look();
})"""


def main() -> None:
    """Print each opening and the median, in ms from the start of navigation: again, and in a browser just started."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        made, profile = Path(folder) / "made", Path(folder) / "profile"
        made.mkdir()
        run_python(made, "manage.py", "migrate", "--verbosity", "0")
        shop = copied(made, Path(folder) / "shop")
        shop.seed("field_day")
        shop.start()
        phone = started(driver, profile)
        open_book(phone.pages[0], shop)
        shop.stop()
        say("opened again", [opened(phone.pages[0], shop.url) for _ in range(TIMES)])
        phone.close()
        took = []
        for _ in range(TIMES):
            phone = started(driver, profile)
            took.append(opened(phone.pages[0], shop.url))
            phone.close()
        say("browser just started", took)
        shop.close()


def started(driver: Playwright, profile: Path) -> BrowserContext:
    """Start a browser on a profile that outlives it."""
    return driver.chromium.launch_persistent_context(
        profile, executable_path=CHROMIUM, args=ARGS, viewport=PHONE, has_touch=True, is_mobile=True
    )


def opened(page: Page, url: str) -> float:
    """Open the book with the CPU throttled and return when its list was there, in ms."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": RATE})
    page.goto("about:blank")
    page.goto(f"{url}{BOOK}", wait_until="commit")
    ready: float = page.evaluate(READY)
    session.detach()
    return ready


def say(words: str, took: list[float]) -> None:
    """Print one line."""
    print(f"{words}: ready after {', '.join(f'{ms:.0f}' for ms in took)} ms; median {statistics.median(took):.0f} ms")


if __name__ == "__main__":
    main()
