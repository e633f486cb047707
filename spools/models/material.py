"""Heats: which melt a bar, an elbow or a piece came from."""

from django.db import models

from spools.models.people import Shop


class Heat(models.Model):
    """A heat number with what its certificate says."""

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="heats")
    number = models.CharField(max_length=30)
    material = models.CharField(max_length=30, default="A53 B")
    received_on = models.DateField(null=True, blank=True)
    certificate = models.FileField(upload_to="certificates/", blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="heat_once_in_shop")]

    def __str__(self) -> str:
        return self.number
