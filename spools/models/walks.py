"""Planned walks along a main: which tie-ins, in which order, from which shaft to which, shift by shift."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from spools.models.jobs import Main
from spools.models.people import Person

if TYPE_CHECKING:
    from django.db.models import QuerySet


class WalkQuerySet(models.QuerySet["Walk"]):
    """Walks by who may see them."""

    def for_person(self, person: Person) -> QuerySet[Walk]:
        """Walks of the person's own shop."""
        return self.filter(main__job__shop_id=person.the_shop_id)


class Walk(models.Model):
    """One plan as it was made; a new plan is a new row, so a crew's printed list can always be found again."""

    append_only = True  # spools.triggers makes the database refuse changes

    class What(models.TextChoices):
        """What is done on the walk."""

        MEASURE = "measure", "tie-ins to measure"
        HANG = "hang", "spools to hang"

    main = models.ForeignKey(Main, models.PROTECT, related_name="walks")
    key = models.CharField(max_length=64, unique=True, help_text="the caller's own key: a repeat adds nothing")
    what = models.CharField(max_length=7, choices=What, default=What.MEASURE)
    planned_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    planned_at = models.DateTimeField()
    in_a_shift = models.PositiveSmallIntegerField()
    same_shaft = models.BooleanField(default=False)
    shifts = models.JSONField(default=list, help_text="in order: shaft in, shaft out, walk in mm, tie-ins")
    walk_mm = models.FloatField()
    mark_order_mm = models.FloatField(help_text="the same work done in the order of the marks")

    objects = WalkQuerySet.as_manager()

    class Meta:
        ordering = ["-planned_at"]

    def __str__(self) -> str:
        return f"{self.main} {self.planned_at:%d %b}"
