"""Survey shots of a tie-in, as they were brought in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from spools.models.jobs import TieIn
from spools.models.people import Person
from spools.models.readings import Reading

if TYPE_CHECKING:
    from django.db.models import QuerySet


class SurveyQuerySet(models.QuerySet["Survey"]):
    """Surveys by who may see them."""

    def for_person(self, person: Person) -> QuerySet[Survey]:
        """Surveys of the person's own shop."""
        return self.filter(tie_in__job__shop_id=person.the_shop_id)


class Survey(models.Model):
    """The shots on both axes of one tie-in, in mm; ``reading`` is what one bend makes of them, where one bend does."""

    append_only = True  # spools.triggers makes the database refuse changes

    tie_in = models.ForeignKey(TieIn, models.PROTECT, related_name="surveys")
    key = models.CharField(max_length=64, unique=True, help_text="the caller's own key: a repeat adds nothing")
    shots = models.JSONField(help_text="a and b: the shots of each axis toward the spool, x, y, z in mm")
    findings = models.JSONField(default=list)
    reading = models.ForeignKey(Reading, models.PROTECT, null=True, blank=True, related_name="surveys")
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    received_at = models.DateTimeField()

    objects = SurveyQuerySet.as_manager()

    class Meta:
        ordering = ["-received_at"]

    def __str__(self) -> str:
        return f"survey of {self.tie_in}"
