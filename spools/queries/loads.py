"""What the driver's pages show: loads open and gone, one load's lines, and what is ready to go."""

from collections.abc import Sequence
from datetime import datetime

from django.db.models import Count, Max, Q, QuerySet, Sum

from spools.errors import not_found
from spools.models import Load, LoadLine, Person, Spool
from spools.models.spools import SpoolQuerySet

NEXT_OF = {Load.Kind.COATING: "at_coating", Load.Kind.SITE: "delivered"}


def loads_of(person: Person) -> QuerySet[Load]:
    """Return the loads, open ones first."""
    return (
        Load.objects.for_person(person).annotate(is_closed=Q(closed_at__isnull=False)).order_by("is_closed", "-number")
    )


def count_lines(loads: Sequence[Load]) -> None:
    """Give the loads of one page their counts and weight (one query; those of all years would be counted in vain)."""
    lines = LoadLine.objects.filter(load__in=[load.id for load in loads]).order_by().values("load")
    counted = lines.annotate(
        out_count=Count("id"),
        open_count=Count("id", filter=Q(settled="")),
        missing_count=Count("id", filter=Q(settled="missing")),
        black_kg=Sum("spool__black_kg"),
    )
    nothing = {"out_count": 0, "open_count": 0, "missing_count": 0, "black_kg": 0.0}
    by_load = {row["load"]: row for row in counted}
    for load in loads:
        vars(load).update(by_load.get(load.id, nothing))


def overdue_loads(person: Person, *, at: datetime) -> QuerySet[Load]:
    """Return the loads of which something is still at the galvanizer after the day it was due back."""
    today = at.astimezone(person.the_shop.zone).date()
    late = Load.objects.for_person(person).filter(kind=Load.Kind.COATING, closed_at=None, due_back_on__lt=today)
    still_out = Count("lines", filter=Q(lines__settled="", lines__left_at__isnull=False))
    return late.annotate(not_back=still_out).filter(not_back__gt=0).order_by("due_back_on")


def one_load(load_id: int, person: Person) -> Load:
    """Return one load with its totals. Raises ``ShopError`` not_found."""
    found = (
        Load.objects.for_person(person)
        .annotate(
            out_count=Count("lines"),
            open_count=Count("lines", filter=Q(lines__settled="")),
            black_kg=Sum("lines__spool__black_kg"),
            heaviest_kg=Max("lines__spool__black_kg"),
            longest_mm=Max("lines__spool__check_mm"),
        )
        .select_related("made_by", "shop")
        .filter(id=load_id)
        .first()
    )
    if found is None:
        raise not_found("load of that number")
    return found


def lines_of(load: Load) -> QuerySet[LoadLine]:
    """Return a load's lines: by tag to the galvanizer, in walking order to site."""
    lines = load.lines.select_related("spool__tie_in__job", "spool__tie_in__main")
    lines = lines.defer("spool__solution", "spool__route", "spool__standing")
    if load.kind == Load.Kind.SITE:
        return lines.order_by("spool__tie_in__main__name", "spool__tie_in__station_mm", "id")
    return lines.order_by("rack", "spool__tag", "id")


def ready_for(kind: str, person: Person) -> SpoolQuerySet:
    """Return what can go on a load of that kind now, in walking order."""
    ready = Spool.objects.for_person(person).live().filter(next_step=NEXT_OF[Load.Kind(kind)], hold_count=0)
    return (
        ready.filter(accepted_at__isnull=False)
        .exclude(load_lines__settled="")
        .for_lists()
        .order_by("-rush", "tie_in__main__name", "tie_in__station_mm", "id")
    )
