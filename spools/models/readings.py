"""What the jig said at a tie-in: kept as typed, never changed; a new reading supersedes an old one."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from django.db import models

from spools.models.jigs import SetPoints
from spools.models.jobs import TieIn
from spools.models.people import Person

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from geometry.drawing.description import Hand as DrawnHand


class ReadingQuerySet(models.QuerySet["Reading"]):
    """Readings by who may see them."""

    def for_person(self, person: Person) -> QuerySet[Reading]:
        """Readings of the person's own shop."""
        return self.filter(tie_in__job__shop_id=person.the_shop_id)


class Reading(models.Model):
    """One reading. The database refuses to change or delete a row; texts are what was typed, numbers what they mean."""

    append_only = True  # spools.triggers makes the database refuse changes

    class Hand(models.TextChoices):
        """Which way the drain leg turns, seen from the main with the up mark on top."""

        LEFT = "left", "turns left, seen from the main"
        RIGHT = "right", "turns right, seen from the main"
        UP = "up", "turns up"
        DOWN = "down", "turns down"

    tie_in = models.ForeignKey(TieIn, models.PROTECT, related_name="readings")
    revision = models.PositiveSmallIntegerField()
    key = models.CharField(max_length=64, unique=True)
    fingerprint = models.CharField(max_length=64)
    set_points = models.ForeignKey(SetPoints, models.PROTECT, related_name="readings")
    leg_a_text = models.CharField(max_length=40)
    leg_b_text = models.CharField(max_length=40)
    included_text = models.CharField(max_length=20)
    burn_a_text = models.CharField(max_length=20)
    burn_b_text = models.CharField(max_length=20)
    closing_text = models.CharField(max_length=40, blank=True)
    d_text = models.CharField(max_length=40, blank=True)
    e_text = models.CharField(max_length=40, blank=True)
    leg_a_mm = models.FloatField(help_text="pivot center to end A, burn and set point worked in")
    leg_b_mm = models.FloatField()
    included_deg = models.FloatField()
    closing_mm = models.FloatField(null=True, blank=True)
    d_mm = models.FloatField(null=True, blank=True)
    e_mm = models.FloatField(null=True, blank=True)
    line = models.JSONField(
        null=True, blank=True, help_text="two bends from survey shots: the whole center line, its outer legs A and B"
    )
    measured_to_a = models.CharField(max_length=20)
    measured_to_b = models.CharField(max_length=20)
    hand = models.CharField(max_length=5, choices=Hand, blank=True)
    up_mark = models.CharField(max_length=60, blank=True)
    note = models.CharField(max_length=300, blank=True)
    closes = models.BooleanField()
    second_of = models.ForeignKey(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="second_readings",
        help_text="the reading that this one was taken to compare with, by somebody on their own",
    )
    findings = models.JSONField(default=list)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="readings_taken")
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField()

    objects = ReadingQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["tie_in", "revision"], name="reading_revision_once")]
        indexes = [models.Index(fields=["-received_at"], name="reading_newest")]

    def __str__(self) -> str:
        return f"{self.tie_in.mark} {self.letter}"

    @property
    def the_hand(self) -> DrawnHand:
        """The hand as a drawing takes it; the column's choices are the same words."""
        return cast("DrawnHand", self.hand)

    @property
    def letter(self) -> str:
        """Reading revisions are letters: A is the first."""
        return revision_letter(self.revision)


def revision_letter(revision: int) -> str:
    """Return A for 1, Z for 26, AA for 27."""
    letters = ""
    while revision > 0:
        revision, rest = divmod(revision - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
