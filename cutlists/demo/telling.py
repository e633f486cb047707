"""What the demo says on the terminal: totals, the promise, where to look, who to be."""

from collections.abc import Iterator
from datetime import datetime

from cutlists.demo.papers import Folder
from cutlists.demo.people import DEMO_DIGITS, DEMO_WORD, SIGN_INS
from cutlists.demo.scenario import JOB_NAME, JOB_NUMBER
from cutlists.demo.totals import Totals
from spools.models import Shop


def tell_totals(shop: Shop, totals: Totals) -> Iterator[str]:
    """Yield where the tie-ins stand and how the promise was kept."""
    counts, promise = totals.counts, totals.promise
    share, flattering = promise.on_time.share, promise.on_time.finished_only
    weeks = ", ".join(f"{week.share.hits} of {week.share.n}" for week in promise.on_time.by_week)
    yield f"{shop.name}, job {JOB_NUMBER}: {JOB_NAME}"
    yield f"As of {_clock(promise.at, shop)}:"
    yield f"  {totals.tie_ins} tie-ins: {totals.not_measured} not measured, {counts.measured} measured"
    yield (
        f"  {counts.delivered} delivered, {counts.back_in_yard} back in the yard, "
        f"{counts.at_galvanizer} at the galvanizer, {counts.in_work + counts.ready_for_coating} in the shop:"
    )
    yield (
        f"    {counts.ready_for_coating} ready for coating, {counts.waiting_visual} waiting for the visual, "
        f"{counts.to_weld} to weld, {counts.to_prepare} to groove or bevel, {counts.to_cut} to cut, {counts.held} held"
    )
    yield f"  On time {share.say()}"
    late = len(promise.on_time.open_late)
    yield f"    by due week {weeks}; {late} open and late, {promise.on_time.not_yet_due} not due"
    yield f"    counting only what is finished would flatter: {flattering.hits} of {flattering.n}"
    if promise.clock.p50 is not None and promise.door_to_door.n:
        yield (
            f"  Shop clock: median {promise.clock.p50:.1f} h; door to door: median "
            f"{promise.door_to_door.p50:.1f} calendar days"
        )


def tell_papers(folder: Folder) -> Iterator[str]:
    """Yield the folder and its files."""
    yield f"Papers of the next morning in {folder.path}:"
    for printed in folder.files:
        yield f"  {printed.name} ({printed.pages} pages)"


def tell_sign_ins(pages: dict[str, str]) -> Iterator[str]:
    """Yield who to sign in as and the page each lives on; ``pages`` maps a role's words to its address."""
    yield f"Sign in with the word  {DEMO_WORD}  as (four digits at the shared tablet: {DEMO_DIGITS}):"
    for role, sign_in in SIGN_INS:
        yield f"  {sign_in:<8} {role:<16} {pages[role]}"


def tell_again(shop: Shop, end: datetime) -> str:
    """Return the line for a demo that is there already."""
    return (
        f"The demo is here already, played up to {_clock(end, shop)}; nothing was added. "
        "With --reset it is made anew, up to today."
    )


def _clock(at: datetime, shop: Shop) -> str:
    return f"{at.astimezone(shop.zone):%a %-d %b %Y %H:%M}"
