"""Drawings and codes of a spool's papers, kept once drawn."""

from django.db import models

from spools.models import Spool


class KeptDrawing(models.Model):
    """What was drawn for one spool, compressed; ``drawn_from`` tells whether it still is the drawing of that spool."""

    spool = models.ForeignKey(Spool, models.CASCADE, related_name="kept_drawings")
    kind = models.CharField(max_length=16)
    drawn_from = models.CharField(max_length=64)
    body = models.BinaryField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["spool", "kind"], name="drawing_kept_once")]

    def __str__(self) -> str:
        return f"{self.kind} of spool {self.spool_id}"
