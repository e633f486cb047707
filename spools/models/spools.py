"""A spool: what is built for one tie-in from one reading; its pieces and joints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models

from spools.flow.routes import Route, stored_route
from spools.flow.status import Standing, stored_standing
from spools.flow.steps import say
from spools.models.floor import Bench
from spools.models.jobs import TieIn
from spools.models.material import Heat
from spools.models.readings import Reading, revision_letter

if TYPE_CHECKING:
    from spools.models.people import Person


# What is not on site yet stays a few hundred, however long the shop's history: its indexes hold only that.
OPEN = models.Q(live=True, delivered_at=None)


class SpoolQuerySet(models.QuerySet["Spool"]):
    """Spools by who may see them and by where they stand."""

    def for_person(self, person: Person) -> SpoolQuerySet:
        """Spools of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)

    def live(self) -> SpoolQuerySet:
        """The one build of each tie-in that counts."""
        return self.filter(live=True)

    def open(self) -> SpoolQuerySet:
        """Live and not yet delivered."""
        return self.live().filter(delivered_at=None)

    def in_shop(self) -> SpoolQuerySet:
        """Live and not yet accepted."""
        return self.open().filter(accepted_at=None)

    def for_lists(self) -> SpoolQuerySet:
        """With what every list shows, in one query; the stored solution is for the page of one spool."""
        return self.select_related("tie_in", "tie_in__main", "tie_in__job", "bench").defer("solution")


class Spool(models.Model):
    """One build. ``route`` and ``solution`` are fixed at release; the last columns are projections of its events."""

    shop = models.ForeignKey("spools.Shop", models.PROTECT, related_name="+")
    tie_in = models.ForeignKey(TieIn, models.PROTECT, related_name="spools")
    reading = models.ForeignKey(Reading, models.PROTECT, related_name="spools")
    build = models.PositiveSmallIntegerField()
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8)
    bend_kind = models.CharField(max_length=20)
    turn_deg = models.FloatField()
    leg_a_mm = models.FloatField()
    leg_b_mm = models.FloatField()
    take_off_mm = models.FloatField()
    check_mm = models.FloatField()
    check_tolerance_mm = models.FloatField()
    black_kg = models.FloatField()
    zinc_kg = models.FloatField()
    box_mm = models.JSONField(
        null=True,
        blank=True,
        help_text="length, width and height of a spool with two bends; of one it follows from its legs",
    )
    route = models.JSONField()
    solution = models.JSONField()
    engine = models.CharField(max_length=20)
    inputs_hash = models.CharField(max_length=64)
    clock_start_at = models.DateTimeField()
    due_at = models.DateTimeField()
    replaces = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="replaced_by")

    # Projections: written by the ledger alone, rebuilt by one command.
    live = models.BooleanField(default=True)
    standing = models.JSONField(default=dict)
    status = models.CharField(max_length=12, default="measured")
    next_step = models.CharField(max_length=16, blank=True)
    status_since = models.DateTimeField(null=True)
    hold_count = models.PositiveSmallIntegerField(default=0)
    rush = models.BooleanField(default=False)
    bench = models.ForeignKey(Bench, models.PROTECT, null=True, blank=True, related_name="spools")
    tag = models.CharField(max_length=5, blank=True)
    accepted_at = models.DateTimeField(null=True)
    coating_out_at = models.DateTimeField(null=True)
    coating_back_at = models.DateTimeField(null=True)
    delivered_at = models.DateTimeField(null=True)
    last_number = models.PositiveIntegerField(default=0)
    last_event_at = models.DateTimeField(null=True)

    objects = SpoolQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["tie_in", "build"], name="spool_build_once"),
            models.UniqueConstraint(fields=["tie_in"], condition=models.Q(live=True), name="one_live_spool_a_tie_in"),
            models.UniqueConstraint(
                fields=["shop", "tag"],
                condition=models.Q(live=True, delivered_at=None) & ~models.Q(tag=""),
                name="tag_on_one_open_spool",
            ),
        ]
        indexes = [
            models.Index(
                fields=["shop", "next_step", "due_at", "id"], condition=models.Q(live=True), name="spool_board"
            ),
            models.Index(fields=["shop", "due_at", "id"], condition=models.Q(live=True), name="spool_due"),
            models.Index(fields=["shop", "due_at", "id"], condition=OPEN, name="spool_open"),
            models.Index(fields=["bench", "due_at"], condition=OPEN, name="spool_bench_open"),
            models.Index(fields=["shop", "accepted_at"], name="spool_accepted"),
            models.Index(fields=["tag"], name="spool_tag"),
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The tie-in's mark and, from the second build on, its letter: ``214`` or ``214 B``."""
        return self.tie_in.mark if self.build == 1 else f"{self.tie_in.mark} {self.letter}"

    @property
    def letter(self) -> str:
        """The build's letter: A is the first."""
        return revision_letter(self.build)

    @property
    def the_route(self) -> Route:
        """The steps that this build needs."""
        return stored_route(self.route)

    @property
    def the_standing(self) -> Standing:
        """What its events have led to."""
        return stored_standing(self.standing)

    @property
    def status_word(self) -> str:
        """The shop's word for where it stands."""
        return say(self.status)


class Piece(models.Model):
    """One piece of a spool: a length of pipe or a fitting."""

    spool = models.ForeignKey(Spool, models.PROTECT, related_name="pieces")
    mark = models.CharField(max_length=4)
    kind = models.CharField(max_length=12)
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8)
    material = models.CharField(max_length=30)
    exact_cut_mm = models.FloatField(null=True, blank=True)
    cut_mm = models.FloatField(null=True, blank=True, help_text="rounded to the tape; what the saw is set to")
    stock_mm = models.FloatField(default=0, help_text="what the bar gives, to the long points; 0 for a fitting")
    ends = models.JSONField(default=list)
    marks = models.JSONField(default=list)
    kg = models.FloatField()
    sawn = models.BooleanField(default=False, help_text="cut from stock by the saw")
    # Projections of the spool's events.
    is_cut = models.BooleanField(default=False)
    heat = models.ForeignKey(Heat, models.PROTECT, null=True, blank=True, related_name="pieces")

    class Meta:
        ordering = ["spool", "id"]
        constraints = [models.UniqueConstraint(fields=["spool", "mark"], name="piece_mark_once_in_spool")]
        indexes = [models.Index(fields=["spool"], condition=models.Q(is_cut=False, sawn=True), name="piece_to_cut")]

    def __str__(self) -> str:
        return f"{self.spool.label}-{self.mark}"


class Joint(models.Model):
    """One weld between two pieces."""

    spool = models.ForeignKey(Spool, models.PROTECT, related_name="joints")
    number = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=12)
    piece_1 = models.ForeignKey(Piece, models.PROTECT, related_name="+")
    piece_2 = models.ForeignKey(Piece, models.PROTECT, related_name="+")
    gap_mm = models.FloatField()

    class Meta:
        ordering = ["spool", "number"]
        constraints = [models.UniqueConstraint(fields=["spool", "number"], name="joint_number_once_in_spool")]

    def __str__(self) -> str:
        return f"{self.spool.label} weld {self.number}"
