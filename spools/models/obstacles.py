"""What kept somebody from measuring a tie-in, until somebody clears it or a reading shows that it is gone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import F, Q

from spools.models.jobs import TieIn
from spools.models.people import Person

if TYPE_CHECKING:
    from django.db.models import QuerySet


class ObstacleQuerySet(models.QuerySet["Obstacle"]):
    """Obstacles by who may see them, and by whether they still stand."""

    def for_person(self, person: Person) -> QuerySet[Obstacle]:
        """Obstacles of the person's own shop."""
        return self.filter(tie_in__job__shop_id=person.the_shop_id)

    def standing(self) -> QuerySet[Obstacle]:
        """Not cleared, and nobody has measured there since."""
        measured_since = Q(tie_in__current_reading__taken_at__gte=F("seen_at"))
        return self.filter(cleared_at=None).exclude(measured_since)


class Obstacle(models.Model):
    """One tie-in that couldn't be measured: why, seen by whom and when."""

    class Why(models.TextChoices):
        """What stands in the way."""

        BLOCKED = "blocked", "blocked"
        WATER = "water", "water"
        NO_SADDLE = "no_saddle", "no saddle"
        WRONG_SIZE = "wrong_size", "wrong size"

    tie_in = models.ForeignKey(TieIn, models.PROTECT, related_name="obstacles")
    key = models.CharField(max_length=64, unique=True, help_text="the caller's own key: a repeat adds nothing")
    why = models.CharField(max_length=10, choices=Why)
    note = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    seen_at = models.DateTimeField()
    received_at = models.DateTimeField()
    cleared_at = models.DateTimeField(null=True, blank=True)
    cleared_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    cleared_words = models.CharField(max_length=300, blank=True)

    objects = ObstacleQuerySet.as_manager()

    class Meta:
        ordering = ["-seen_at", "-id"]
        indexes = [models.Index(fields=["tie_in"], condition=Q(cleared_at=None), name="obstacle_not_cleared")]

    def __str__(self) -> str:
        return f"{self.tie_in}: {self.get_why_display()}"

    @property
    def seen_words(self) -> str:
        """Who saw it and what they said: ``seen by Ruiz: up to the knee``."""
        said = f": {self.note}" if self.note else ""
        return f"can't be measured, seen by {self.by.short_name}{said}"
