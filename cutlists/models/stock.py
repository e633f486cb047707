"""Bars and drops in the stock room, and the append-only account of what happened to each."""

from __future__ import annotations

from django.db import models

from cutlists.units import PER_MM
from spools.models import Heat, Person, Shop


class StockBarQuerySet(models.QuerySet["StockBar"]):
    """Bars by who may see them and whether they can still be cut."""

    def for_person(self, person: Person) -> StockBarQuerySet:
        """Bars of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)

    def on_hand(self) -> StockBarQuerySet:
        """Bars and drops that are there and not used up."""
        return self.filter(state__in=[StockBar.State.IN_STOCK, StockBar.State.RESERVED, StockBar.State.ON_SAW])


class StockBar(models.Model):
    """One length of pipe: a bar as bought, or a drop kept from one. Lengths in saw units (see ``cutlists.units``)."""

    class State(models.TextChoices):
        """Where a bar stands; a projection of its stock events."""

        IN_STOCK = "in_stock", "in stock"
        RESERVED = "reserved", "reserved for a plan"
        ON_SAW = "on_saw", "on the saw"
        USED = "used", "used up"
        SCRAPPED = "scrapped", "scrapped"

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="bars")
    tag = models.CharField(max_length=12)
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8)
    material = models.CharField(max_length=30, default="A53 B")
    heat = models.ForeignKey(Heat, models.PROTECT, null=True, blank=True, related_name="bars")
    is_drop = models.BooleanField(default=False)
    cut_from = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="drops")
    nominal_u = models.BigIntegerField(help_text="what buying it counted; 0 for a drop")
    received_u = models.BigIntegerField(help_text="length when it came")
    length_u = models.BigIntegerField(help_text="length now on hand")
    used_u = models.BigIntegerField(default=0, help_text="taken off its marked end so far: trim, pieces, kerf")
    last_number = models.PositiveIntegerField(default=0)
    rack = models.CharField(max_length=12, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.IN_STOCK)

    objects = StockBarQuerySet.as_manager()

    class Meta:
        ordering = ["nps", "schedule", "-is_drop", "length_u", "id"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "tag"], name="bar_tag_once_in_shop"),
            models.CheckConstraint(condition=models.Q(length_u__gte=0), name="bar_length_not_below_zero"),
        ]
        indexes = [models.Index(fields=["shop", "nps", "schedule", "state"], name="bar_by_pipe")]

    def __str__(self) -> str:
        return self.tag

    @property
    def is_opened(self) -> bool:
        """Whether its end is a sawn one: a drop, or a bar that was cut into."""
        return self.is_drop or self.used_u > 0

    @property
    def length_mm(self) -> float:
        """What is on hand, in mm."""
        return self.length_u / PER_MM

    @property
    def received_mm(self) -> float:
        """What it was when it came, in mm."""
        return self.received_u / PER_MM


class StockEvent(models.Model):
    """One change to one bar: who, why, and what it did to the length. Never changed, never deleted."""

    class Kind(models.TextChoices):
        """What happened; ``length_u`` of the row is the change, below zero when material left.

        What an undo puts back is a row of the same kind with the length turned around, so the sum of a kind is what
        really went that way.
        """

        RECEIVED = "received", "received"
        COUNTED = "counted", "counted"
        CORRECTED = "corrected", "length corrected"
        RESERVED = "reserved", "reserved"
        FREED = "freed", "reservation freed"
        LOADED = "loaded", "on the saw"
        CUT = "cut", "piece cut"
        KERF = "kerf", "kerf"
        TRIMMED = "trimmed", "end trim"
        DROPPED = "dropped", "drop racked"
        SCRAPPED = "scrapped", "scrapped"
        UNCUT = "uncut", "cut undone"
        RETURNED = "returned", "piece returned"
        MOVED = "moved", "put elsewhere"
        AGAIN = "again", "planned again"
        USED = "used", "used up"

    append_only = True  # spools.triggers makes the database refuse changes

    bar = models.ForeignKey(StockBar, models.PROTECT, related_name="events")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=Kind)
    length_u = models.BigIntegerField(default=0)
    person = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    key = models.CharField(max_length=80, unique=True)
    reason = models.CharField(max_length=200, blank=True)
    piece = models.ForeignKey("spools.Piece", models.PROTECT, null=True, blank=True, related_name="stock_events")
    details = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["bar", "number"]
        constraints = [models.UniqueConstraint(fields=["bar", "number"], name="stock_event_number_once")]

    def __str__(self) -> str:
        return f"{self.bar_id} #{self.number} {self.kind}"

    @property
    def size_mm(self) -> float:
        """How much length came or went, in mm."""
        return abs(self.length_u) / PER_MM

    @property
    def sign(self) -> str:
        """Whether length came or went."""
        return "plus " if self.length_u > 0 else "minus "
