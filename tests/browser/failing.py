"""What a page showed when its test failed: its address, its words, what it was asking for and what it keeps."""

from collections.abc import Callable

from playwright.sync_api import Error, Page

WORDS = 3000
KEPT = """async () => {
    if (!globalThis.idb) return "";
    const db = await idb.openDB("field-book");
    const kept = await Promise.all(["readings", "checks", "obstacles", "fits"].map(async (name) =>
        (await db.getAll(name)).map((row) => `${name} ${row.key} ${row.state} ${JSON.stringify(row.answer ?? null)}`)));
    db.close();
    return kept.flat().join("\\n");
}"""
ASKED = """() => performance.getEntriesByType("resource").slice(-12).map((one) =>
    `${Math.round(one.startTime)} + ${Math.round(one.duration)} ms ${one.responseStatus} ${one.name}`).join("\\n")"""


def what_it_shows(page: Page) -> str:
    """Return the page in words; a part that can't be had any more says why."""
    parts: tuple[Callable[[], str], ...] = (
        lambda: page.inner_text("body", timeout=2000)[:WORDS],
        lambda: page.evaluate(ASKED),
        lambda: page.evaluate(KEPT),
    )
    said = [page.url]
    for part in parts:
        try:
            said.append(part())
        except Error as trouble:
            said.append(f"({trouble.message})")
    return "\n\n".join(said)
