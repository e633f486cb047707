"""A job, its mains, and the tie-ins strung along them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import F, Q

from spools.models.people import Shop

if TYPE_CHECKING:
    from spools.models.people import Person


class JobQuerySet(models.QuerySet["Job"]):
    """Jobs by who may see them."""

    def for_person(self, person: Person) -> JobQuerySet:
        """Jobs of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)


class Job(models.Model):
    """One contract: its unit system is fixed once a reading exists."""

    class Units(models.TextChoices):
        """How lengths are written on this job."""

        US = "us", "feet, inches, fractions"
        METRIC = "metric", "millimeters"

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="jobs")
    number = models.CharField(max_length=20)
    name = models.CharField(max_length=120)
    customer = models.CharField(max_length=120, blank=True)
    units = models.CharField(max_length=6, choices=Units, default=Units.US)
    graduation = models.CharField(max_length=6, default="1/16")
    root_gap_mm = models.FloatField(default=2.38125)
    closing_tolerance_mm = models.FloatField(default=3.175)
    coating = models.BooleanField(default=True)
    weld_procedure = models.CharField(max_length=30, blank=True, help_text="the number of the welds' procedure")
    is_open = models.BooleanField(default=True)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["shop", "number"], name="job_number_once_in_shop")]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"


class Main(models.Model):
    """A large main that tie-ins leave; stations run along it."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="mains")
    name = models.CharField(max_length=60)
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8, default="STD")
    station_from_mm = models.FloatField(default=0)
    station_to_mm = models.FloatField(default=0)
    access_mm = models.JSONField(default=list, blank=True, help_text="stations of shafts and manholes, mm")

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["job", "name"], name="main_name_once_in_job")]

    def __str__(self) -> str:
        return self.name


class TieInQuerySet(models.QuerySet["TieIn"]):
    """Tie-ins by what still has to happen to them."""

    def for_person(self, person: Person) -> TieInQuerySet:
        """Tie-ins of the person's own shop."""
        return self.filter(job__shop_id=person.the_shop_id)

    def to_measure(self) -> TieInQuerySet:
        """Tie-ins that nobody has read yet."""
        return self.filter(current_reading=None)

    def waiting(self) -> TieInQuerySet:
        """Tie-ins whose newest reading has not become a spool."""
        return self.exclude(current_reading=None).exclude(
            Q(spools__live=True) & Q(spools__reading_id=F("current_reading_id"))
        )

    def along_the_main(self) -> TieInQuerySet:
        """In walking order."""
        return self.order_by("main__name", "station_mm", "mark_key", "id")


class TieIn(models.Model):
    """One place where a drain ties into the main; its mark is unique in its job."""

    class Side(models.TextChoices):
        """Looking up station."""

        LEFT = "left", "left, looking up station"
        RIGHT = "right", "right, looking up station"

    job = models.ForeignKey(Job, models.PROTECT, related_name="tie_ins")
    main = models.ForeignKey(Main, models.PROTECT, related_name="tie_ins")
    mark = models.CharField(max_length=16)
    mark_key = models.CharField(max_length=16, editable=False)
    station_mm = models.FloatField()
    side = models.CharField(max_length=5, choices=Side)
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8, default="40")
    material = models.CharField(max_length=30, default="A53 B")
    end_a = models.CharField(max_length=20, default="beveled", help_text="end at the main")
    end_b = models.CharField(max_length=20, default="grooved", help_text="end at the drain")
    measured_to_a = models.CharField(max_length=20, default="pipe_end")
    measured_to_b = models.CharField(max_length=20, default="pipe_end")
    bend_kind = models.CharField(max_length=20, default="trimmed_elbow")
    bend_options = models.JSONField(default=dict, blank=True)
    end_options = models.JSONField(default=dict, blank=True, help_text="what an end needs to know, by side")
    design_included_deg = models.FloatField(null=True, blank=True)
    needed_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)
    current_reading = models.ForeignKey("spools.Reading", models.PROTECT, null=True, blank=True, related_name="+")

    objects = TieInQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["job", "mark_key"], name="mark_once_in_job")]
        indexes = [
            models.Index(fields=["main", "station_mm"], name="tie_in_along_main"),
            models.Index(fields=["mark_key"], name="tie_in_mark"),
            models.Index(fields=["station_mm"], name="tie_in_station"),
        ]

    def __str__(self) -> str:
        return self.mark
