"""A shop of any size for the benchmarks: a few spools live through the real deeds, and are then copied in bulk.

A batch of 25 spools, delivered by two trucks, is copied into the past at two days a batch, so that a bigger shop is an
older one; 200 open spools at every station stand in front of it at every size. Copies are plain INSERT … SELECT, for
benchmarks only: keys, marks and numbers stay unique, and every projection says what its copied events say.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.core.management.color import no_style
from django.db import connection, models, transaction

from cutlists.models import StockBar
from spools.actions.count_back import count_back
from spools.actions.deliver import deliver
from spools.actions.hold_spool import hold_spool
from spools.actions.load_truck import load_truck
from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import (
    Bench,
    Event,
    Heat,
    Job,
    Joint,
    Load,
    LoadLine,
    Main,
    Person,
    Piece,
    Reading,
    Shop,
    Spool,
    TieIn,
)
from spools.solving import Typed
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_key, make_spool, take
from tests.factories.stock import make_bars

BATCH, OPEN = 25, 200
OPEN_PATTERN = 10  # spools of the open pattern; it is copied until there are OPEN
BATCHES_A_JOB = 12
DAYS_A_BATCH = 2
# Above every id of the patterns: a copy's id is the pattern's plus its number times this, minus for what is older.
STRIDE = 10_000
NUMBERED: list[type[models.Model]] = [
    TieIn,
    Heat,
    Reading,
    Spool,
    Load,
    LoadLine,
    Piece,
    Joint,
    Event,
    Job,
    Main,
    StockBar,
]
NAMED = {(TieIn, "mark"), (Job, "number"), (Heat, "number")}
WAITS = Typed(leg_a="36 1/8", leg_b="22 9/16", included="52.5", closing="53")


@dataclass(frozen=True, slots=True)
class BigShop:
    """The shop, who looks at it, and one of each thing that can be looked for."""

    shop: Shop
    person: Person
    spool: int
    bench: int
    job: int
    mark: str
    tag: str
    heat: str


@transaction.atomic
def fill(spools: int, *, at: datetime) -> BigShop:
    """Fill an empty database with one shop of so many spools, as of a moment."""
    batches = (spools - OPEN) // BATCH
    _number_from((batches + 1) * STRIDE)
    shop = make_shop()
    people = [make_person(shop, *Role) for _ in range(3)]
    live = _Live(shop, people, at)
    delivered = live.delivered_batch(at - timedelta(days=DAYS_A_BATCH + 1))
    opened = live.open_pattern(at - timedelta(hours=5))
    _copy_many(_batch_rows(delivered), range(1, batches), into_the_past=True)
    _copy_many(_batch_rows(opened), range(batches, batches + OPEN // OPEN_PATTERN - 1), into_the_past=False)
    _number_on()
    far = Spool.objects.filter(delivered_at__isnull=False).order_by("id").select_related("tie_in")[0]
    going = Spool.objects.filter(next_step="welded", hold_count=0).order_by("id")[0]
    job = going.tie_in.job_id
    return BigShop(
        shop,
        people[0],
        going.id,
        live.benches[0].id,
        job,
        far.tie_in.mark,
        far.tag,
        far.pieces.exclude(heat=None)[0].heat.number,
    )


@transaction.atomic
def copy_of_one(spools: int, *, at: datetime) -> Shop:
    """Fill an empty database with one shop of so many spools, all just measured."""
    one = make_spool("1")
    _copy_many(_batch_rows([one.id]), range(1, spools), into_the_past=False)
    _number_on()
    return one.shop


def analyze() -> None:
    """Let the database look at what it holds, as it does by itself in the night."""
    with connection.cursor() as cursor:
        cursor.execute("VACUUM ANALYZE" if connection.vendor == "postgresql" else "ANALYZE")


class _Live:
    """The patterns, lived through the shop's own deeds."""

    def __init__(self, shop: Shop, people: list[Person], at: datetime) -> None:
        self.shop, self.people, self.now = shop, people, at
        self.old, self.new = make_job(shop, number="2208"), make_job(shop, number="2311")
        self.benches = [Bench.objects.create(shop=shop, name=str(number)) for number in (1, 2, 3)]
        self.heat = Heat.objects.create(shop=shop, number="7K2214")
        for number in range(20):
            make_tie_in(self.new, f"N{number}", station_mm=304.8 * (400 + number))
        make_bars(shop, 12)

    def call(self, at: datetime, person: int = 0) -> dict[str, Any]:
        return {"person": self.people[person], "key": make_key(), "at": at}

    def delivered_batch(self, at: datetime) -> list[int]:
        ids = [
            self._spool(self.old, f"{number}", at, bench=number % 3, accepted=True) for number in range(1, BATCH + 1)
        ]
        out = load_truck(kind=Load.Kind.COATING, going_to="zinc", spool_ids=ids, **self.call(at + timedelta(hours=7)))
        count_back(load_id=out.id, spool_ids=ids, **self.call(at + timedelta(hours=30)))
        site = load_truck(kind=Load.Kind.SITE, going_to="site", spool_ids=ids, **self.call(at + timedelta(hours=31)))
        deliver(load_id=site.id, spool_ids=ids, last=True, **self.call(at + timedelta(hours=33)))
        return ids

    def open_pattern(self, at: datetime) -> list[int]:
        ids = [self._spool(self.new, "p1", at), self._spool(self.new, "p2", at, cut=True)]
        ids += [self._spool(self.new, f"p{number}", at, bench=number % 3) for number in (3, 4, 5)]
        ids += [self._spool(self.new, "p6", at, bench=1, welded=True), self._spool(self.new, "p7", at, accepted=True)]
        ids += [self._spool(self.new, "p8", at, bench=2), self._spool(self.new, "p9", at, accepted=True)]
        hold_spool(spool_id=ids[7], reason="no elbow", **self.call(at))
        load_truck(kind=Load.Kind.COATING, going_to="zinc", spool_ids=[ids[8]], **self.call(at + timedelta(hours=2)))
        ids.append(self._spool(self.new, "p10", at, cut=True))
        take(make_tie_in(self.new, "W1"), WAITS, keep_anyway=True, at=at)
        return ids

    def _spool(
        self,
        job: Job,
        mark: str,
        at: datetime,
        *,
        cut: bool = False,
        bench: int | None = None,
        welded: bool = False,
        accepted: bool = False,
    ) -> int:
        one = make_spool(mark, job=job, station_mm=304.8 * 40 * int(mark.lstrip("p")))
        if bench is not None:
            put_on_bench(spool_id=one.id, bench_id=self.benches[bench].id, **self.call(at))
        if cut or bench is not None or welded or accepted:
            heats = Tap(heats=dict.fromkeys(one.the_route.sawn(), self.heat.id))
            record_step(spool_id=one.id, step="cut", tap=heats, **self.call(at + timedelta(hours=1)))
        if bench is not None:
            for step in ("grooved", "beveled"):
                record_step(spool_id=one.id, step=step, **self.call(at + timedelta(hours=2)))
        if welded or accepted:
            record_step(spool_id=one.id, step="welded", tap=Tap(already=True), **self.call(at + timedelta(hours=3)))
        if accepted:
            look = Tap(check_mm=one.check_mm)
            record_step(spool_id=one.id, step="accepted", tap=look, **self.call(at + timedelta(hours=4), 1))
        return one.id


Rows = list[tuple[type[models.Model], list[int]]]


def _batch_rows(spool_ids: list[int]) -> Rows:
    """Return everything that is copied with these spools."""
    spools = Spool.objects.filter(id__in=spool_ids)
    loads = set(LoadLine.objects.filter(spool_id__in=spool_ids).values_list("load_id", flat=True))
    of_spools: list[tuple[type[models.Model], Iterable[int]]] = [
        (TieIn, spools.values_list("tie_in_id", flat=True)),
        (Reading, spools.values_list("reading_id", flat=True)),
        (Spool, spool_ids),
        (Heat, Piece.objects.filter(spool__in=spools, heat__isnull=False).values_list("heat_id", flat=True).distinct()),
        (Load, loads),
        (LoadLine, LoadLine.objects.filter(load_id__in=loads).values_list("id", flat=True)),
        (Piece, Piece.objects.filter(spool__in=spools).values_list("id", flat=True)),
        (Joint, Joint.objects.filter(spool__in=spools).values_list("id", flat=True)),
        (Event, Event.objects.filter(spool__in=spools).values_list("id", flat=True)),
    ]
    return [(model, list(ids)) for model, ids in of_spools]


def _copy_many(rows: Rows, numbers: range, *, into_the_past: bool) -> None:
    copied = {model for model, _ in rows}
    job_ids = list(TieIn.objects.filter(id__in=rows[0][1]).values_list("job_id", flat=True).distinct())
    if into_the_past:
        mains = list(Main.objects.filter(job_id__in=job_ids).values_list("id", flat=True))
        jobs = range(1, max(numbers, default=0) // BATCHES_A_JOB + 1)
        for model, ids in ((Job, job_ids), (Main, mains)):
            _copy(model, ids, jobs, {Job, Main}, days=0, older=True)
    for model, ids in rows:
        _copy(model, ids, numbers, copied, days=DAYS_A_BATCH if into_the_past else 0, older=into_the_past)


def _copy(
    model: type[models.Model],
    ids: list[int],
    numbers: range,
    copied: set[type[models.Model]],
    *,
    days: int,
    older: bool,
) -> None:
    """Copy rows once for each number."""
    if not ids or not numbers:
        return
    fields = model._meta.concrete_fields
    columns = ", ".join(f'"{field.column}"' for field in fields)
    values = ", ".join(_value(field, model, copied, days, older=older) for field in fields)
    table = model._meta.db_table
    first, last = numbers.start, numbers[-1]
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {table} ({columns}) "  # noqa: S608  names of our own models
            f"WITH RECURSIVE copy(n) AS (SELECT {first} UNION ALL SELECT n + 1 FROM copy WHERE n < {last}) "
            f"SELECT {values} FROM {table} p, copy WHERE p.id IN ({', '.join(map(str, ids))})"
        )


def _value(field: Any, model: type[models.Model], copied: set[type[models.Model]], days: int, *, older: bool) -> str:
    column = f'p."{field.column}"'
    of = field.related_model if field.is_relation else model if field.primary_key else None
    of_an_old_job = days and model is TieIn and field.name in {"job", "main"}
    if of in copied or of_an_old_job:
        count = f"(n / {BATCHES_A_JOB})" if of_an_old_job else "n"
        return f"{column} {'-' if older else '+'} {count} * {STRIDE}"
    if (model, field.name) == (Load, "number"):
        return f"{column} + n * {STRIDE}"
    if days and (model, field.name) == (TieIn, "station_mm"):
        return f"{column} + (n % {BATCHES_A_JOB}) * {BATCH * 40 * 304.8}"
    if field.name in {"key", "mark_key"} or (model, field.name) in NAMED:
        return f"{column} || '-' || n"
    if (model, field.name) == (Job, "is_open"):
        return "n < 1"
    if days and (model, field.name) == (Spool, "tag"):
        return _five_digits(f"(p.id + n * {BATCH}) % 9999")
    return _earlier(column, days) if days and isinstance(field, models.DateTimeField) else column


def _five_digits(number: str) -> str:
    return f"lpad(({number})::text, 5, '0')" if connection.vendor == "postgresql" else f"printf('%05d', {number})"


def _earlier(column: str, days: int) -> str:
    if connection.vendor == "postgresql":
        return f"{column} - n * interval '{days} days'"
    return f"strftime('%Y-%m-%d %H:%M:%f', {column}, '-' || (n * {days}) || ' days')"


def _number_from(start: int) -> None:
    """Let the patterns take high numbers, so that what is copied into the past has lower ones, as in life."""
    with connection.cursor() as cursor:
        for table in (model._meta.db_table for model in NUMBERED):
            if connection.vendor == "postgresql":
                cursor.execute(f"SELECT setval(pg_get_serial_sequence('{table}', 'id'), {start})")
            else:
                cursor.execute("DELETE FROM sqlite_sequence WHERE name = %s", [table])
                cursor.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (%s, %s)", [table, start])


def _number_on() -> None:
    """Let the next rows that the shop writes take numbers above the copies."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), NUMBERED):
            cursor.execute(statement)
