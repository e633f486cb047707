"""The turnover record: what was built, of which heats, welded, measured and accepted by whom, coated and delivered."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Any, BinaryIO

from cutlists.papers.heading import Printing, heading_for, shop_clock
from cutlists.papers.loads import signed_of
from cutlists.papers.words import schedule_words
from cutlists.sheets.frame import Paper
from cutlists.sheets.turnover import TurnoverLine, TurnoverSheet, write_turnover
from geometry.tables.odd_sizes import say_size
from spools.actions.acceptance import print_included_deg
from spools.models import Event, Job, LoadLine, Person, Signature, Spool
from spools.models.spools import SpoolQuerySet
from spools.queries.welds import WELD_STEPS, flanges_by, made_by

PART = 200


def write_job_record(out: BinaryIO, job: Job, printing: Printing, *, paper: Paper) -> int:
    """Write the record of a whole job's accepted spools; returns the pages."""
    accepted = Spool.objects.for_person(printing.person).live().filter(tie_in__job=job, accepted_at__isnull=False)
    spools = accepted.order_by("tie_in__main__name", "tie_in__station_mm", "id")
    lines = lines_of(spools, printing.person)
    scope = f"{job.number} {job.name}, every accepted spool so far"
    sheet = _sheet(job, job.number, scope, lines, printing, receipts_of(spools))
    return write_turnover(out, sheet, paper=paper)


def write_spool_record(out: BinaryIO, spool: Spool, printing: Printing, *, paper: Paper) -> int:
    """Write the record of one spool, whatever it has reached; returns the pages."""
    only = Spool.objects.for_person(printing.person).filter(id=spool.id)
    scope = f"spool {spool.label}, {spool.tie_in.main}"
    lines = lines_of(only, printing.person)
    sheet = _sheet(spool.tie_in.job, spool.label, scope, lines, printing, receipts_of(only))
    return write_turnover(out, sheet, paper=paper)


def _sheet(
    job: Job,
    record: str,
    scope: str,
    lines: Sequence[TurnoverLine],
    printing: Printing,
    receipts: Sequence[Signature] = (),
) -> TurnoverSheet:
    heading = heading_for(printing, shop=printing.person.the_shop, job=job)
    return TurnoverSheet(
        heading=heading,
        record=record,
        scope=scope,
        lines=tuple(lines),
        notes=tuple(f"Received, load {one.load.number}: {signed_of(one).words}." for one in receipts),
        received=signed_of(receipts[0]) if len(receipts) == 1 else None,
    )


def receipts_of(spools: SpoolQuerySet) -> list[Signature]:
    """Return the signatures under which these spools were received on site, in their order."""
    lines = LoadLine.objects.filter(spool__in=spools, settled="delivered").values("load_id")
    found = Signature.objects.filter(signed_for=Signature.For.RECEIVED, load_id__in=lines)
    return list(found.select_related("load__shop").order_by("id"))


def lines_of(spools: SpoolQuerySet, person: Person) -> list[TurnoverLine]:
    """Return the record's lines, some at a time."""
    names = {str(one.id): one.short_name for one in Person.objects.filter(shop_id=person.the_shop_id)}
    taken = Event.objects.filter(spool__in=spools, code="accepted", undone_by=None).order_by("number")
    measured = dict(taken.values_list("spool_id", "details"))
    made: dict[int, list[Event]] = defaultdict(list)
    for event in Event.objects.filter(spool__in=spools, code__in=[*WELD_STEPS, "weld_by"], undone_by=None):
        made[event.spool_id].append(event)
    wanted = spools.defer("solution").select_related("tie_in__job__shop", "tie_in__main")
    found = wanted.prefetch_related("pieces__heat").iterator(chunk_size=PART)
    return [_line(spool, names, measured.get(spool.id, {}), made[spool.id]) for spool in found]


def _line(spool: Spool, names: dict[str, str], measured: dict[str, Any], told: list[Event]) -> TurnoverLine:
    standing, shop = spool.the_standing, spool.tie_in.job.shop
    heats: dict[str, list[str]] = {}
    for piece in spool.pieces.all():
        if piece.heat:
            heats.setdefault(piece.heat.number, []).append(piece.mark)
    accepted = shop_clock(spool.accepted_at, shop)
    by = names.get(standing.by.get("accepted", ""), "")
    welders = _welders(made_by(told), names) or names.get(standing.by.get("welded", ""), "")
    flanges = _flange_welders(standing.done.get("flange welded", ()), told, names)
    return TurnoverLine(
        mark=spool.label,
        revision=spool.letter,
        tag=spool.tag,
        pipe=f"{say_size(spool.nps)} {schedule_words(spool.schedule)}",
        heats=", ".join(f"{' '.join(marks)}: {number}" for number, marks in heats.items()),
        welders="; ".join(filter(None, (welders, flanges))),
        check_mm=spool.check_mm,
        measured_mm=measured.get("check_mm") if spool.accepted_at else None,
        included_deg=print_included_deg(spool),
        found_deg=measured.get("included_deg") if spool.accepted_at else None,
        accepted=f"{accepted}, {by}" if accepted else "not yet",
        coated=_coated(spool),
        delivered=shop_clock(spool.delivered_at, shop) or "not yet",
    )


def _welders(made: dict[int, tuple[int, str]], names: dict[str, str]) -> str:
    """Return who made the welds, by which procedure; weld by weld only where they differ."""
    said = {
        joint: " ".join(filter(None, (names.get(str(by), ""), procedure))) for joint, (by, procedure) in made.items()
    }
    if len(set(said.values())) <= 1:
        return next(iter(said.values()), "")
    return ", ".join(f"{joint}: {words}" for joint, words in sorted(said.items()))


def _flange_welders(on_now: Iterable[str], told: list[Event], names: dict[str, str]) -> str:
    """Return who welded on the flanges that are on now, each named once."""
    made = flanges_by(told)
    by = ", ".join(dict.fromkeys(names.get(str(made[end]), "") for end in on_now))
    return f"flange {by}" if by else ""


def _coated(spool: Spool) -> str:
    if not spool.route["coating"]:
        return "not coated"
    shop = spool.tie_in.job.shop
    out, back = (
        f"{at.astimezone(shop.zone):%-d %b}" if at else "" for at in (spool.coating_out_at, spool.coating_back_at)
    )
    return f"{out} to {back}" if out and back else f"out {out}" if out else "not yet"
