"""Every page of every role, found by following the links that people see: readable by all, at home on a phone."""

from collections import deque
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.urls import Resolver404, resolve, reverse

from fabshop.access import TABLE
from tests.browser.every_page_seeds import BY_ROLE, EVERYBODY
from tests.browser.signing_in import sign_in

AXE = (Path(__file__).parent / "vendor" / "axe-core-4.14.1" / "axe.min.js").read_text(encoding="utf-8")
WIDTHS = (360, 1440)
SERIOUS = """() => axe.run(document, {resultTypes: ["violations"]}).then(({violations}) => violations
    .filter(({impact}) => impact === "serious" || impact === "critical")
    .map(({id, nodes}) => `${id}: ${nodes[0].html.slice(0, 160)}`))"""
FITS = """() => {
    const wide = document.documentElement.scrollWidth - innerWidth;
    if (wide <= 0) return [];
    const out = [...document.querySelectorAll("main *")].filter(
        (one) => one.getBoundingClientRect().right > innerWidth + 1);
    return [`${wide} px too wide: ${out.map((one) => one.outerHTML.slice(0, 120))[0]}`];
}"""
# Also those in a drawing, whose href is no text.
LINKS = """() => [...document.querySelectorAll("a[href]")]
    .map((one) => new URL(one.getAttribute("href"), location.href).href)"""
# Files, not pages; and what is reached by a form or from paper alone.
FILES = {name for name in TABLE if "export" in name or name in {"sheet", "paper-file", "photo", "cut-label"}}
FILES |= {
    "schema",
    "api-docs",
    "bench-list",
    "plan-sheet",
    "load-sheet",
    "field-log",
    "jig-slip",
    "tag-list",
    "turnover",
    "promise-report",
}
PAGES = {
    *("floor", "floor-list", "spool", "jobs", "job", "job-new", "tie-in-new", "reading", "reading-new", "field"),
    *(
        "jig-check",
        "field-book",
        "import",
        "walk-new",
        "proposal",
        "bench",
        "bench-queue",
        "tablet",
        "notices",
        "setup",
    ),
    *("setup-people", "setup-person", "setup-person-new", "setup-benches", "setup-bench", "setup-bench-new"),
    *("setup-calendar", "setup-jigs", "setup-jig", "setup-jig-new", "setup-jobs", "setup-job"),
    *("setup-main", "setup-main-new", "setup-shop", "loads", "load", "load-new", "tags", "tag-lost", "promise"),
    *("promise-list", "papers", "paper-job", "saw", "plan", "plan-new", "stock", "stock-receive", "stock-bar", "legs"),
    "heat",
}


def name_of(url: str) -> str:
    """Return the name of one of our addresses; empty for what is not a page."""
    try:
        match = resolve(urlsplit(url).path)
    except Resolver404:
        return ""
    return match.view_name if match.view_name in TABLE and match.view_name not in FILES else ""


def walk(page, shop, *starts: str) -> tuple[set[str], dict[str, list[str]]]:
    """Follow the links from some addresses to one page of each name; return the names and what is wrong where."""
    queue, seen, troubles = deque(f"{shop.url}{start}" for start in starts), set(), {}
    while queue:
        url = queue.popleft()
        name = name_of(url)
        if not name or name in seen or not url.startswith(shop.url):
            continue
        if urlsplit(url).path.endswith(".pdf"):  # a paper, which this browser has no viewer for
            assert page.request.get(url).body().startswith(b"%PDF"), url
            seen.add(name)
            continue
        answer = page.goto(url)
        assert answer.status == 200, f"{url}: {answer.status}"
        seen |= {name, name_of(page.url)}
        if "text/html" in answer.headers["content-type"]:
            troubles |= troubles_of(page, name)
            queue.extend(page.evaluate(LINKS))
    return seen, troubles


def troubles_of(page, name: str, widths: tuple[int, ...] = WIDTHS) -> dict[str, list[str]]:
    """Return what is wrong with the page that is open, at each width."""
    page.evaluate(AXE)
    found = {}
    for width in widths:
        page.set_viewport_size({"width": width, "height": 900})
        found[f"{name} at {width}: {urlsplit(page.url).path}"] = [*page.evaluate(SERIOUS), *page.evaluate(FITS)]
    return {page_name: wrong for page_name, wrong in found.items() if wrong}


@pytest.fixture
def desk(browser):
    context = browser.new_context(viewport={"width": 1440, "height": 900}, bypass_csp=True)
    yield context.new_page()
    context.close()


def test_nothing_serious_on_any_page_and_none_is_wider_than_a_phone(desk, open_shop):
    shop = open_shop("every_page")
    sign_in(desk, shop, EVERYBODY, "/floor/")
    # Two are reached by a form: the proposal by its button, the tablet's sign-on by a name.
    names, troubles = walk(desk, shop, "/floor/", reverse("proposal"), reverse("tablet"))
    assert PAGES - names == set(), "not reached by any link"
    assert troubles == {}


def test_nothing_serious_where_each_role_lives(browser, open_shop):
    shop = open_shop("every_page")
    troubles = {}
    for role, name in BY_ROLE.items():
        context = browser.new_context(viewport={"width": 360, "height": 740}, bypass_csp=True)
        page = context.new_page()
        page.goto(f"{shop.url}/sign-in/")
        troubles |= troubles_of(page, f"{role} signs in", (360,))
        sign_in(page, shop, name)
        troubles |= troubles_of(page, f"{role}'s own", (360,))
        context.close()
    assert troubles == {}
