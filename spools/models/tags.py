"""Stamped steel tags: which numbers hang on the nail, and which will never hang there again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from spools.models.people import Person, Shop

if TYPE_CHECKING:
    from django.db.models import QuerySet


class TagBatchQuerySet(models.QuerySet["TagBatch"]):
    """Batches by who may see them."""

    def for_person(self, person: Person) -> QuerySet[TagBatch]:
        """Batches of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)


class TagBatch(models.Model):
    """Numbers stamped together, from one list."""

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="tag_batches")
    number = models.PositiveIntegerField()
    key = models.CharField(max_length=64, unique=True)
    stamped_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    stamped_at = models.DateTimeField()

    objects = TagBatchQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        verbose_name_plural = "tag batches"
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="tag_batch_number_once_in_shop")]

    def __str__(self) -> str:
        return f"Batch {self.number}"


class StampedTag(models.Model):
    """One tag of steel. What it hangs on is the spool's to say; a lost or spoiled one is retired for good."""

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="stamped_tags")
    batch = models.ForeignKey(TagBatch, models.PROTECT, related_name="tags")
    number = models.CharField(max_length=5)
    retired_at = models.DateTimeField(null=True, blank=True)
    retired_reason = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="tag_stamped_once_in_shop")]

    def __str__(self) -> str:
        return self.number
