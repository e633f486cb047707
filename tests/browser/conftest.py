"""Browser tests: a live shop as a real process, and a real browser; nothing is mocked."""

import fcntl
import os
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

from tests.browser.day_people import DayPeople
from tests.browser.failing import what_it_shows
from tests.browser.live_shop import LiveShop, copied, run_python

CHROMIUM = "/usr/bin/chromium-headless-shell"
ARGS = ["--no-sandbox", "--disable-gpu"]
PHONE = {"width": 360, "height": 740}
expect.set_options(timeout=30_000)  # how long a busy machine may take; nothing waits longer than it has to


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, Callable[[Path], object]], Path]:
    """Return a folder that one worker has filled for all: ``made_once("migrated", fill)``."""
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own

    def of(name: str, fill: Callable[[Path], object]) -> Path:
        made = shared / f"made-{name}"
        with (shared / f"made-{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)  # whoever comes second waits, and finds it made
            if not made.exists():
                begun = tmp_path_factory.mktemp(name)
                fill(begun)
                begun.rename(made)
        return made

    return of


@pytest.fixture(scope="session")
def seeded(made_once: Callable[[str, Callable[[Path], object]], Path]) -> Callable[[str], Path]:
    """Return a database filled by a seed, each seed played once, on the migrations made once."""

    def play(seed: str, var: Path) -> None:
        made = made_once("migrated", lambda empty: run_python(empty, "manage.py", "migrate", "--verbosity", "0"))
        shop = copied(made, var)
        shop.seed(seed)
        shop.close()

    return lambda seed: made_once(seed, partial(play, seed))


@pytest.fixture
def open_shop(seeded: Callable[[str], Path], tmp_path: Path) -> Iterator[Callable[[str], LiveShop]]:
    """Start a shop from a seed: ``open_shop("field_day")``. It ends with the test."""
    opened: list[LiveShop] = []

    def start(seed: str = "field_day") -> LiveShop:
        shop = copied(seeded(seed), tmp_path / f"shop{len(opened)}")
        opened.append(shop)
        shop.start()
        return shop

    yield start
    for shop in opened:
        shop.close()


@pytest.fixture(scope="module")
def day(
    request: pytest.FixtureRequest, seeded: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[LiveShop]:
    """One shop for all the tests of a file, on the day that the file names as ``DAY``."""
    seed: str = request.module.DAY
    shop = copied(seeded(seed), tmp_path_factory.mktemp("day") / "shop")
    shop.start()
    yield shop
    shop.close()


@pytest.fixture(scope="module")
def people(browser: Browser, day: LiveShop) -> Iterator[DayPeople]:
    """Everybody of that day, each with a browser of their own."""
    everybody = DayPeople(browser, day)
    yield everybody
    everybody.close()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One browser for all tests; each test has contexts of its own."""
    opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGS)
    yield opened
    opened.close()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    """Say with a failure what its pages showed: a race is seldom seen twice."""
    report: pytest.TestReport = yield
    if report.when == "call" and report.failed:
        for page in {value for value in item.funcargs.values() if isinstance(value, Page)}:  # type: ignore[attr-defined]
            report.sections.append(("what the page showed", what_it_shows(page)))
    return report


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """A page the size of a phone, which fails the test on any error of its scripts."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, device_scale_factor=2)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    context.close()
    assert errors == []


@pytest.fixture
def without_tls(browser: Browser) -> Iterator[Page]:
    """An address by name without TLS is no secure context: no worker, no locks, no randomUUID."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.add_init_script(
        "Object.defineProperty(globalThis, 'isSecureContext', { value: false });"
        "Object.defineProperty(navigator, 'serviceWorker', { value: undefined });"
        "Object.defineProperty(navigator, 'locks', { value: undefined }); crypto.randomUUID = undefined;"
        "delete Navigator.prototype.serviceWorker;"
    )
    yield page
    context.close()


@pytest.fixture
def phone_that_restarts(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[[], BrowserContext]]:
    """Start a browser on a profile that outlives it; a new start ends the one before."""
    running: list[BrowserContext] = []

    def start() -> BrowserContext:
        while running:
            running.pop().close()
        context = playwright.chromium.launch_persistent_context(
            tmp_path / "profile", executable_path=CHROMIUM, args=ARGS, viewport=PHONE, has_touch=True, is_mobile=True
        )
        running.append(context)
        return context

    yield start
    for context in running:
        context.close()
