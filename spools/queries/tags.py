"""What the page of steel tags shows: the nail, the batches, and spools that lost their tag."""

from dataclasses import dataclass

from django.db.models import Count, Exists, OuterRef, Q, QuerySet

from spools.errors import not_found
from spools.flow.by_tape import Match, Taped, nearest
from spools.models import Person, Spool, StampedTag, TagBatch
from spools.models.spools import SpoolQuerySet


@dataclass(frozen=True, slots=True)
class Nail:
    """How the stock of stamped tags stands, and the next ones to take."""

    stamped: int
    hanging: int
    on_spools: int
    retired: int
    next: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lost:
    """A spool that may be the one without its tag."""

    spool: Spool
    match: Match


def nail_of(person: Person) -> Nail:
    """Return the shop's stock of tags."""
    tags = StampedTag.objects.filter(shop_id=person.the_shop_id).annotate(bound=Exists(_spools_of_tag()))
    counts = tags.aggregate(
        stamped=Count("id"),
        retired=Count("id", filter=Q(retired_at__isnull=False)),
        on_spools=Count("id", filter=Q(bound=True, retired_at=None)),
    )
    hanging = tags.filter(bound=False, retired_at=None).order_by("batch__number", "number")
    left = counts["stamped"] - counts["retired"] - counts["on_spools"]
    return Nail(
        counts["stamped"],
        left,
        counts["on_spools"],
        counts["retired"],
        tuple(hanging.values_list("number", flat=True)[:8]),
    )


def _spools_of_tag() -> SpoolQuerySet:
    return Spool.objects.filter(shop_id=OuterRef("shop_id"), tag=OuterRef("number"))


def batches_of(person: Person) -> QuerySet[TagBatch]:
    """Return the batches, newest first, with how many tags each has."""
    found = TagBatch.objects.for_person(person).select_related("stamped_by")
    return found.annotate(count=Count("tags")).order_by("-number")


def one_batch(batch_id: int, person: Person) -> TagBatch:
    """Return one batch with its tags. Raises ``ShopError`` not_found."""
    found = TagBatch.objects.for_person(person).prefetch_related("tags").filter(id=batch_id).first()
    if found is None:
        raise not_found("batch of that number")
    return found


def lost_by_tape(person: Person, *, nps: str, longer_leg_mm: float, check_mm: float) -> tuple[Lost, ...]:
    """Return the spools nearest to what was taped, of all that are built and not yet on site."""
    about = Spool.objects.for_person(person).open().filter(accepted_at__isnull=False, nps=nps)
    rows = about.values_list("id", "nps", "leg_a_mm", "leg_b_mm", "check_mm")
    taped = (
        Taped(spool=number, nps=size, longer_leg_mm=max(a, b), check_mm=check) for number, size, a, b, check in rows
    )
    matches = nearest(taped, nps=nps, longer_leg_mm=longer_leg_mm, check_mm=check_mm)
    spools = Spool.objects.for_lists().defer("solution").in_bulk([match.spool for match in matches])
    return tuple(Lost(spools[match.spool], match) for match in matches)


def sizes_built(person: Person) -> list[str]:
    """Return the sizes among what is built and not yet on site."""
    built = Spool.objects.for_person(person).open().filter(accepted_at__isnull=False)
    return sorted(built.values_list("nps", flat=True).distinct(), key=lambda nps: (len(nps), nps))
