"""What goes on a truck: to the galvanizer or to site."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from spools.models.people import Person, Shop

if TYPE_CHECKING:
    from django.db.models import QuerySet


class LoadQuerySet(models.QuerySet["Load"]):
    """Loads by who may see them."""

    def for_person(self, person: Person) -> QuerySet[Load]:
        """Loads of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)


class Load(models.Model):
    """One truck trip; its lines say which spools are on it."""

    class Kind(models.TextChoices):
        """Where a truck goes."""

        COATING = "coating", "to the galvanizer"
        SITE = "site", "to site"

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="loads")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=8, choices=Kind)
    going_to = models.CharField(max_length=80)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True, help_text="the first trip left")
    due_back_on = models.DateField(null=True, blank=True, help_text="when the galvanizer promised it back")
    closed_at = models.DateTimeField(null=True, blank=True)
    link_until = models.DateTimeField(null=True, blank=True, help_text="the counter's link opens until then")
    link_version = models.PositiveSmallIntegerField(default=1, help_text="a new link makes the ones before it dead")
    key = models.CharField(max_length=64, unique=True)

    objects = LoadQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="load_number_once_in_shop")]

    def __str__(self) -> str:
        return f"Load {self.number}"


class LoadLine(models.Model):
    """One spool on one trip of one load; one that waits for its trip has not left."""

    load = models.ForeignKey(Load, models.PROTECT, related_name="lines")
    spool = models.ForeignKey("spools.Spool", models.PROTECT, related_name="load_lines")
    rack = models.CharField(max_length=10, blank=True)
    trip = models.PositiveSmallIntegerField(default=1)
    left_at = models.DateTimeField(null=True, blank=True)
    settled = models.CharField(max_length=10, blank=True, help_text="back, delivered, missing, spare or taken off")
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["load", "rack", "id"]
        constraints = [
            models.UniqueConstraint(fields=["load", "spool"], name="spool_once_on_load"),
            models.UniqueConstraint(fields=["spool"], condition=models.Q(settled=""), name="spool_on_one_open_load"),
        ]

    def __str__(self) -> str:
        return f"{self.load}: {self.spool_id}"


class Signature(models.Model):
    """Somebody's name under a count, drawn with a finger: strokes of points from 0 to 1000 across and down."""

    append_only = True  # spools.triggers makes the database refuse changes

    class For(models.TextChoices):
        """What is signed for."""

        HANDED_OVER = "handed over", "handed over to the galvanizer"
        BACK = "back", "counted back"
        RECEIVED = "received", "received on site"

    load = models.ForeignKey(Load, models.PROTECT, related_name="signatures")
    signed_for = models.CharField(max_length=12, choices=For)
    name = models.CharField(max_length=60)
    count = models.PositiveSmallIntegerField(help_text="spools accounted for as it was signed")
    of = models.PositiveSmallIntegerField(help_text="spools on the load")
    strokes = models.JSONField()
    person = models.ForeignKey(Person, models.PROTECT, related_name="+", help_text="whose load or tap it is")
    by_link = models.BooleanField(default=False)
    signed_at = models.DateTimeField()
    key = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["load", "id"]

    def __str__(self) -> str:
        return f"{self.load}: {self.name}"

    @property
    def paths(self) -> list[str]:
        """The strokes as SVG paths in a box of 1000 by 1000."""
        return ["M" + " L".join(f"{x} {y}" for x, y in stroke) for stroke in self.strokes]


class Weighing(models.Model):
    """One net weight from a truck scale: of what went out, or of what came back, with the spools it was of."""

    append_only = True  # spools.triggers makes the database refuse changes

    class Way(models.TextChoices):
        """Which way it went."""

        OUT = "out", "out, black"
        BACK = "back", "back, with zinc"

    load = models.ForeignKey(Load, models.PROTECT, related_name="weighings")
    way = models.CharField(max_length=4, choices=Way)
    net_kg = models.FloatField(help_text="gross less tare")
    scale_kg = models.FloatField(help_text="standard deviation of one reading of that scale")
    spools = models.JSONField(help_text="which spools lay on the truck by the count")
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    key = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["load", "id"]

    def __str__(self) -> str:
        return f"{self.load} {self.way}: {self.net_kg:.0f} kg"
