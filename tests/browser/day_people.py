"""The people of one shop, each with a browser of their own that stays signed in for all the tests of a file."""

from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Page

from tests.browser.live_shop import LiveShop
from tests.browser.signing_in import sign_in

AXE = Path(__file__).parent / "vendor" / "axe-core-4.14.1" / "axe.min.js"
TABLET = {"width": 820, "height": 1180}


@dataclass
class DayPeople:
    """Whoever is asked for is signed in at the first time."""

    browser: Browser
    shop: LiveShop
    pages: dict[str, Page] = field(default_factory=dict)

    def at(self, name: str, path: str) -> Page:
        """Open a page as somebody."""
        if name not in self.pages:
            self.pages[name] = self.browser.new_context(viewport=TABLET, has_touch=True).new_page()
            sign_in(self.pages[name], self.shop, name.lower(), path)
            return self.pages[name]
        self.pages[name].goto(f"{self.shop.url}{path}")
        return self.pages[name]

    def told(self, name: str) -> str:
        """What stands on somebody's own list."""
        return self.at(name, "/notices/").inner_text("main")

    def close(self) -> None:
        """Everybody goes home."""
        for page in self.pages.values():
            page.context.close()


def serious(page: Page) -> list[str]:
    """What axe finds wrong on a page that keeps somebody out."""
    page.evaluate(AXE.read_text())
    found = page.evaluate("() => axe.run().then((result) => result.violations)")
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in found if one["impact"] in {"serious", "critical"}
    ]


def spool_number(shop: LiveShop, mark: str, *, live: bool = True) -> int:
    """The row of a mark's build."""
    sql = "SELECT s.id FROM spools_spool s JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? AND s.live = ?"
    return shop.rows(sql, mark, live)[0][0]


def events_of(shop: LiveShop, mark: str) -> list[str]:
    """The codes of a mark's events, oldest first, over all its builds."""
    sql = (
        "SELECT e.code FROM spools_event e JOIN spools_spool s ON s.id = e.spool_id "
        "JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? ORDER BY e.id"
    )
    return [code for (code,) in shop.rows(sql, mark)]


def standing_of(shop: LiveShop, mark: str) -> tuple:
    """Status, next step, holds, rush and bench of a mark's live build."""
    sql = (
        "SELECT s.status, s.next_step, s.hold_count, s.rush, s.bench_id FROM spools_spool s "
        "JOIN spools_tiein t ON t.id = s.tie_in_id WHERE t.mark = ? AND s.live = 1"
    )
    return shop.rows(sql, mark)[0]
