"""What the page of one load shows to those who answer for it: lines, what is not back, weights, signatures, link."""

from dataclasses import dataclass
from datetime import datetime

from spools.flow.weigh_back import Check, Weighed, check_back, check_out
from spools.models import Load, LoadLine, Signature, Spool, Weighing
from spools.queries.loads import lines_of


@dataclass(frozen=True, slots=True)
class PageLine:
    """One line, with the build that replaced it where one did."""

    line: LoadLine
    words: str
    replacement: Spool | None


@dataclass(frozen=True, slots=True)
class WeighingRow:
    """One weighing with what it says."""

    weighing: Weighing
    check: Check


@dataclass(frozen=True, slots=True)
class TripWaiting:
    """A trip that has not left."""

    number: int
    count: int
    kg: float


@dataclass(frozen=True, slots=True)
class LoadPage:
    """Everything of one load."""

    lines: tuple[PageLine, ...]
    waiting: tuple[TripWaiting, ...]
    not_back: tuple[LoadLine, ...]
    missing: tuple[PageLine, ...]
    weighings: tuple[WeighingRow, ...]
    signatures: tuple[Signature, ...]
    link_open: bool


def load_page(load: Load, *, at: datetime) -> LoadPage:
    """Return the page of a load (five queries at most, whatever the number of lines)."""
    lines = list(lines_of(load))
    ended = [line.spool_id for line in lines if not line.spool.live]
    newer = {
        spool.replaces_id: spool
        for spool in Spool.objects.filter(replaces_id__in=ended).select_related("tie_in").defer("solution", "route")
    }
    rows = tuple(PageLine(line, _words(line), newer.get(line.spool_id)) for line in lines)
    today = at.astimezone(load.shop.zone).date()
    overdue = load.due_back_on is not None and today > load.due_back_on
    return LoadPage(
        lines=rows,
        waiting=_waiting(lines),
        not_back=tuple(line for line in lines if overdue and line.left_at and not line.settled),
        missing=tuple(row for row in rows if row.line.settled == "missing"),
        weighings=_weighings(load, lines),
        signatures=tuple(load.signatures.all()),
        link_open=load.link_until is not None and at <= load.link_until,
    )


def _words(line: LoadLine) -> str:
    if line.settled:
        return f"{line.settled}: {line.note}" if line.note else line.settled
    if line.left_at is None:
        return f"waits for trip {line.trip}"
    return line.note


def _waiting(lines: list[LoadLine]) -> tuple[TripWaiting, ...]:
    here = [line for line in lines if line.left_at is None and not line.settled]
    return tuple(
        TripWaiting(
            trip,
            sum(line.trip == trip for line in here),
            sum(line.spool.black_kg for line in here if line.trip == trip),
        )
        for trip in sorted({line.trip for line in here})
    )


def _weighings(load: Load, lines: list[LoadLine]) -> tuple[WeighingRow, ...]:
    pieces = {line.spool_id: Weighed(line.spool.black_kg, line.spool.zinc_kg) for line in lines}
    rows = []
    out: Weighing | None = None
    for weighing in load.weighings.all():
        of = [pieces[number] for number in weighing.spools if number in pieces]
        if not of:
            continue
        if weighing.way == Weighing.Way.OUT:
            out = weighing
            check = check_out(of, net_kg=weighing.net_kg, scale_kg=weighing.scale_kg)
        else:
            was_out = [pieces[number] for number in out.spools if number in pieces] if out else []
            covered = bool(out) and set(weighing.spools) <= set(out.spools if out else [])
            check = check_back(
                was_out,
                of,
                out_kg=out.net_kg if out and covered else None,
                net_kg=weighing.net_kg,
                scale_kg=weighing.scale_kg,
            )
        rows.append(WeighingRow(weighing, check))
    return tuple(rows)
