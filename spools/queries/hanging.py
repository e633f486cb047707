"""Which spools a crew may be hanging: on site or on the way there, and nobody has said yet that they fit."""

from dataclasses import dataclass

from django.db.models import Exists, F, OuterRef, Prefetch, Q

from spools.models import Event, Load, LoadLine, Person, Spool
from spools.say_lengths import say_length

MOST = 400  # the newest ones: a phone keeps what hangs today, not a shop's history


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """One spool as the phone knows it; ``c`` is what it should measure end to end, ``said`` how it didn't fit."""

    id: int
    tie_in: int
    label: str
    tag: str
    c: str
    stands: str
    said: str


def hanging_of(person: Person) -> list[Hanging]:
    """Return the spools of open jobs that are delivered or left for site, the newest first (three queries)."""
    told = Event.objects.filter(spool=OuterRef("pk"), undone_by=None)
    left = LoadLine.objects.filter(spool=OuterRef("pk"), settled="", load__kind=Load.Kind.SITE, left_at__isnull=False)
    spools = (
        Spool.objects.for_person(person)
        .filter(live=True, tie_in__job__is_open=True)
        .filter(Q(delivered_at__isnull=False) | Exists(left))
        .filter(~Exists(told.filter(code="fits")))
        .select_related("tie_in__job", "shop")
        .prefetch_related(
            Prefetch(
                "load_lines",
                LoadLine.objects.filter(settled="", left_at__isnull=False).select_related("load"),
                to_attr="on_the_way",
            ),
            Prefetch(
                "events",
                Event.objects.filter(code="misfit", undone_by=None).select_related("person").order_by("number"),
                to_attr="misfits",
            ),
        )
        .order_by(F("delivered_at").desc(nulls_first=True), "-id")
    )
    return [_hanging(spool) for spool in spools[:MOST]]


def _hanging(spool: Spool) -> Hanging:
    on_the_way: list[LoadLine] = getattr(spool, "on_the_way", [])
    misfits: list[Event] = getattr(spool, "misfits", [])
    return Hanging(
        id=spool.id,
        tie_in=spool.tie_in_id,
        label=spool.label,
        tag=spool.tag,
        c=say_length(spool.check_mm, spool.tie_in.job.units),
        stands=_stands(spool, on_the_way),
        said=f"{misfits[-1].reason}, {misfits[-1].person.short_name}" if misfits else "",
    )


def _stands(spool: Spool, on_the_way: list[LoadLine]) -> str:
    if spool.delivered_at:
        return f"delivered {spool.delivered_at.astimezone(spool.shop.zone):%a %-d %b}"
    return f"on the way, load {on_the_way[0].load.number}" if on_the_way else "on the way"
