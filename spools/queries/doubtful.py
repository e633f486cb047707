"""What a jig read while it was out of check: every reading since its last good check, furthest along first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from math import hypot, radians, sin

from django.db.models import Max, Prefetch

from spools.errors import not_found
from spools.flow.disputes import DOUBTFUL
from spools.flow.steps import ORDER
from spools.models import Event, JigCheck, Person, Reading, Spool

LOOK_BACK = timedelta(days=120)
IN_TRAY = timedelta(days=14)
MOST_SHOWN = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulReading:
    """One reading, the live spool built from it, and how far its face can be off, in mm.

    ``face_mm`` is the longer leg swung by the jig's drift; ``off_mm`` adds the drift of its length.
    """

    reading: Reading
    spool: Spool | None
    stage: int
    replaced: bool
    face_mm: float
    off_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """One failed check and what it makes doubtful.

    ``since`` is the last good check before it, None where there never was one; ``until`` the next good one.
    """

    check: JigCheck
    since: datetime | None
    until: datetime | None
    rows: tuple[DoubtfulReading, ...]

    @property
    def to_hold(self) -> tuple[int, ...]:
        """The spools that are not yet delivered and not on hold."""
        return tuple(
            row.spool.id for row in self.rows if row.spool and not row.spool.delivered_at and not row.spool.hold_count
        )


def face_off_mm(*, longer_leg_mm: float, drift_deg: float) -> float:
    """Return how far the face of the longer leg is off when the included angle is read wrong by the drift.

    Source: chord of the arc that the far end swings about the PI; geometry.

    >>> [round(face_off_mm(longer_leg_mm=leg, drift_deg=0.5), 1) for leg in (400, 900, 1400)]
    [3.5, 7.9, 12.2]
    """
    return 2.0 * longer_leg_mm * sin(radians(abs(drift_deg)) / 2.0)


def sweeps(person: Person, *, at: datetime) -> list[Sweep]:
    """Return the failed checks of the last four months with what they make doubtful, newest first (four queries)."""
    checks = JigCheck.objects.filter(jig__shop_id=person.the_shop_id)
    lately = checks.filter(at__gte=at - LOOK_BACK).select_related("jig__shop", "by").order_by("jig_id", "at")
    before = checks.filter(at__lt=at - LOOK_BACK, passed=True).values("jig_id").annotate(newest=Max("at"))
    good_at = {row["jig_id"]: row["newest"] for row in before}
    of_jigs = groupby(lately, key=lambda check: check.jig_id)
    spans = [span for jig_id, of_jig in of_jigs for span in _spans(of_jig, good_at.get(jig_id))]
    spans = sorted(spans, key=lambda span: span[0].at, reverse=True)[:MOST_SHOWN]
    if not spans:
        return []
    readings = _readings(person, spans)
    return [_sweep(check, since, until, readings) for check, since, until in spans]


@dataclass(frozen=True, slots=True)
class ToSort:
    """A failed check for the foreman's tray: how many spools are built on its readings and were never held for it."""

    check: JigCheck
    open_count: int


def doubtful_to_sort(person: Person, *, at: datetime) -> list[ToSort]:
    """Return the failed checks of the last two weeks that are not dealt with (one query where no check failed)."""
    failed = JigCheck.objects.filter(jig__shop_id=person.the_shop_id, passed=False, at__gte=at - IN_TRAY)
    if not failed.exists():
        return []
    found = [sweep for sweep in sweeps(person, at=at) if sweep.check.at >= at - IN_TRAY]
    ids = {number for sweep in found for number in sweep.to_hold}
    held = Event.objects.filter(spool_id__in=ids, code="held", reason__startswith=DOUBTFUL)
    dealt_with = set(held.values_list("spool_id", flat=True))
    counted = (ToSort(sweep.check, len(set(sweep.to_hold) - dealt_with)) for sweep in found)
    return [one for one in counted if one.open_count]


def one_sweep(check_id: int, person: Person, *, at: datetime) -> Sweep:
    """Return one failed check's sweep. Raises ``ShopError`` not_found."""
    for sweep in sweeps(person, at=at):
        if sweep.check.id == check_id:
            return sweep
    raise not_found("failed check of that number")


Span = tuple[JigCheck, datetime | None, datetime | None]


def _spans(checks: Iterable[JigCheck], good_at: datetime | None) -> list[Span]:
    """Return the worst failed check of each row of failed ones, with the good checks before and after the row."""
    found: list[Span] = []
    failed: JigCheck | None = None
    for check in checks:
        if check.passed:
            if failed:
                found.append((failed, good_at, check.at))
            good_at, failed = check.at, None
        elif failed is None or _drift(check) > _drift(failed):
            failed = check
    return [*found, (failed, good_at, None)] if failed else found


def _drift(check: JigCheck) -> float:
    return abs(check.included_off_deg)


def _readings(person: Person, spans: list[Span]) -> list[Reading]:
    live = Prefetch("spools", Spool.objects.live())
    found = Reading.objects.for_person(person).filter(set_points__jig_id__in={check.jig_id for check, *_ in spans})
    starts = [since for _, since, _ in spans]
    if None not in starts:
        found = found.filter(taken_at__gt=min(since for since in starts if since))
    rows = found.select_related("tie_in__main", "tie_in__job", "taken_by", "set_points").prefetch_related(live)
    return list(rows.order_by("taken_at"))


def _sweep(check: JigCheck, since: datetime | None, until: datetime | None, readings: list[Reading]) -> Sweep:
    rows = [
        _row(reading, check)
        for reading in readings
        if reading.set_points.jig_id == check.jig_id
        and (since is None or reading.taken_at > since)
        and (until is None or reading.taken_at < until)
    ]
    rows.sort(key=lambda row: (row.replaced, -row.stage, -row.off_mm))
    return Sweep(check=check, since=since, until=until, rows=tuple(rows))


def _row(reading: Reading, check: JigCheck) -> DoubtfulReading:
    spool = next(iter(reading.spools.all()), None)
    face_mm = face_off_mm(longer_leg_mm=max(reading.leg_a_mm, reading.leg_b_mm), drift_deg=check.included_off_deg)
    return DoubtfulReading(
        reading=reading,
        spool=spool,
        stage=ORDER.index(spool.status) if spool else -1,
        replaced=spool is None and reading.tie_in.current_reading_id != reading.id,
        face_mm=face_mm,
        off_mm=hypot(face_mm, check.length_off_mm),
    )
