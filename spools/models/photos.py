"""Photos: of a reading, of what can't be measured, of how a spool fits or how it arrived."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from django.conf import settings
from django.db import models
from django.db.models import Q

from spools.models.events import Event
from spools.models.obstacles import Obstacle
from spools.models.people import Person
from spools.models.readings import Reading

if TYPE_CHECKING:
    from django.db.models import QuerySet


OF_ONE_THING = (
    Q(reading__isnull=False, obstacle__isnull=True, event__isnull=True)
    | Q(reading__isnull=True, obstacle__isnull=False, event__isnull=True)
    | Q(reading__isnull=True, obstacle__isnull=True, event__isnull=False)
)


class PhotoQuerySet(models.QuerySet["Photo"]):
    """Photos by who may see them."""

    def for_person(self, person: Person) -> QuerySet[Photo]:
        """Photos of the person's own shop."""
        shop = person.the_shop_id
        return self.filter(
            Q(reading__tie_in__job__shop_id=shop)
            | Q(obstacle__tie_in__job__shop_id=shop)
            | Q(event__spool__shop_id=shop)
        )


class Photo(models.Model):
    """One photo. Its file is named by its own number, so no name from outside ever reaches the disk."""

    append_only = True  # spools.triggers makes the database refuse changes

    class Kind(models.TextChoices):
        """What the first bytes say it is."""

        JPEG = "jpg", "JPEG"
        PNG = "png", "PNG"
        WEBP = "webp", "WebP"

    reading = models.ForeignKey(Reading, models.PROTECT, null=True, blank=True, related_name="photos")
    obstacle = models.ForeignKey(Obstacle, models.PROTECT, null=True, blank=True, related_name="photos")
    event = models.ForeignKey(Event, models.PROTECT, null=True, blank=True, related_name="photos")
    key = models.CharField(max_length=64, unique=True, help_text="the caller's own key: a repeat adds nothing")
    kind = models.CharField(max_length=4, choices=Kind)
    size = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField()

    objects = PhotoQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [models.CheckConstraint(condition=OF_ONE_THING, name="photo_of_one_thing")]

    def __str__(self) -> str:
        return f"photo {self.pk} of {self.reading or self.obstacle or self.event}"

    @property
    def path(self) -> Path:
        """Where its bytes lie."""
        return Path(settings.MEDIA_ROOT) / "photos" / f"{self.pk}.{self.kind}"
