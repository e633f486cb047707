"""Say of a spool that hangs whether it fits: in the hole, by whoever hangs it, sent when there is signal."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.actions.load_lines import take_off_as_misfit
from spools.actions.report_misfit import HOW, report_misfit
from spools.errors import ShopError
from spools.flow.steps import say
from spools.models import Event, Load, LoadLine, Person, Spool
from spools.recorded import Recorded
from spools.transactions import all_or_nothing

FITS = "fits"
WORDS = {FITS: "fits"} | HOW


@all_or_nothing
def say_fit(
    *,
    spool_id: int,
    how: str,
    person: Person,
    key: str,
    at: datetime,
    note: str = "",
    seen_at: datetime | None = None,
    anyway: bool = False,
) -> Recorded:
    """Say that a spool fits, or how it doesn't; one that doesn't is held, and is off the load that brought it.

    What somebody else said of the same spool is told first; ``anyway`` says it all the same.
    Raises ``ShopError``: not_your_role, not_found, ended, invalid, fit_said, key_reused.
    """
    load, line = _still_on_the_truck(spool_id, person)
    if not anyway:
        _ask_if_said(spool_id, person, key)
    if how == FITS:
        return do_deed(
            code="fits",
            spool_id=spool_id,
            person=person,
            key=key,
            at=at,
            reason=note,
            prepare=lambda _: {"done_at": seen_at},
        )
    recorded = report_misfit(spool_id=spool_id, person=person, key=key, at=at, how=how, reason=note, seen_at=seen_at)
    if load and line:
        take_off_as_misfit(line, load, at)
    return recorded


def _still_on_the_truck(spool_id: int, person: Person) -> tuple[Load | None, LoadLine | None]:
    """Return the locked site load that a spool came with and its line, where nobody has counted it yet."""
    line = LoadLine.objects.filter(spool_id=spool_id, settled="", load__kind=Load.Kind.SITE, left_at__isnull=False)
    found = line.filter(load__shop_id=person.the_shop_id).first()
    if found is None:
        return None, None
    load = Load.objects.select_for_update(of=("self",)).get(id=found.load_id)
    return load, load.lines.get(id=found.id)


def _ask_if_said(spool_id: int, person: Person, key: str) -> None:
    """Ask where somebody has said already whether it fits, unless it was this very telling."""
    found = Event.objects.filter(spool_id=spool_id, spool__shop_id=person.the_shop_id)
    if found.filter(key=key).exists():
        return
    said = found.filter(code__in=("fits", "misfit"), undone_by=None).select_related("person").last()
    if said is None:
        return
    spool = Spool.objects.select_related("tie_in", "shop").get(id=spool_id)
    local = said.done_at.astimezone(spool.shop.zone)
    what = f"{say(said.code)}: {said.reason}" if said.reason else say(said.code)
    raise ShopError(
        "fit_said",
        f"{spool.label} {what}, said {said.person.short_name} {local:%a %-d %b %H:%M}.",
        "Say it all the same, or set yours aside.",
    )
