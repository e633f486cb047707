"""Benches and what they can do."""

from django.db import models

from spools.flow.machine_limits import Machine, Takes
from spools.models.people import Shop


class Bench(models.Model):
    """A place where spools are put together, with the sizes and operations it can take."""

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="benches")
    name = models.CharField(max_length=20)
    operations = models.JSONField(default=list, help_text="step codes that can be done here")
    sizes = models.JSONField(default=list, blank=True, help_text="NPS that fit; empty means any")
    od_from_mm = models.FloatField(
        null=True, blank=True, help_text="smallest outside diameter, such as of a roller set"
    )
    od_to_mm = models.FloatField(null=True, blank=True, help_text="largest outside diameter, such as a saw's throat")
    wall_to_mm = models.FloatField(null=True, blank=True, help_text="thickest wall, such as of a beveler")
    set_up_nps = models.CharField(max_length=8, blank=True)
    down_since = models.DateTimeField(null=True, blank=True)
    down_reason = models.CharField(max_length=120, blank=True)
    back_expected_at = models.DateTimeField(null=True, blank=True)
    is_active = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "benches"
        constraints = [models.UniqueConstraint(fields=["shop", "name"], name="bench_name_once_in_shop")]

    def __str__(self) -> str:
        return self.name

    @property
    def called(self) -> str:
        """What it is called in a sentence: ``bench 3``, but ``Groover``."""
        return f"bench {self.name}" if self.name.isdigit() else self.name

    @property
    def heading(self) -> str:
        """What it is called where a sentence begins with it: ``Bench 3``, ``Groover``."""
        return self.called[:1].upper() + self.called[1:]

    @property
    def takes(self) -> Takes:
        """What fits it."""
        return Takes(tuple(self.sizes), self.od_from_mm, self.od_to_mm, self.wall_to_mm)

    @property
    def machine(self) -> Machine:
        """The bench as the check of what machines take needs it."""
        return Machine(self.called, tuple(self.operations), self.takes)


class BenchStop(models.Model):
    """One time that a bench was down: why, from when to when, who said so; the hours lost are worked out from it."""

    bench = models.ForeignKey(Bench, models.PROTECT, related_name="stops")
    reason = models.CharField(max_length=120)
    down_at = models.DateTimeField()
    up_at = models.DateTimeField(null=True, blank=True)
    back_expected_at = models.DateTimeField(null=True, blank=True, help_text="as it was last told")
    by = models.ForeignKey("spools.Person", models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-down_at", "-id"]
        constraints = [
            models.UniqueConstraint(fields=["bench"], condition=models.Q(up_at=None), name="bench_down_once_at_a_time")
        ]

    def __str__(self) -> str:
        return f"{self.bench} down: {self.reason}"
