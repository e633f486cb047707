"""Swivel jigs, the versions of their set points, and the checks before a shift."""

from django.db import models

from spools.models.people import Person, Shop

SURVEY_JIG = "survey"  # stands for no jig at all: readings that survey shots gave


class Jig(models.Model):
    """One jig by its serial number."""

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="jigs")
    serial = models.CharField(max_length=20)
    locked_reason = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["serial"]
        constraints = [models.UniqueConstraint(fields=["shop", "serial"], name="jig_serial_once_in_shop")]

    def __str__(self) -> str:
        return self.serial


class SetPoints(models.Model):
    """A version of a jig's constants; never edited, only followed by a newer one, so old readings keep theirs."""

    jig = models.ForeignKey(Jig, models.PROTECT, related_name="set_points")
    version = models.PositiveSmallIntegerField()
    valid_from = models.DateTimeField()
    set_point_a_mm = models.FloatField()
    set_point_b_mm = models.FloatField()
    usual_burn = models.CharField(max_length=16, default="4", help_text="tape mark held at the set point, as written")
    included_offset_deg = models.FloatField(default=0)
    included_min_deg = models.FloatField(default=60)
    included_max_deg = models.FloatField(default=180)
    leg_min_mm = models.FloatField(default=101.6)
    leg_max_mm = models.FloatField(default=2438.4)

    class Meta:
        ordering = ["jig", "-version"]
        verbose_name_plural = "set points"
        constraints = [models.UniqueConstraint(fields=["jig", "version"], name="set_points_version_once")]

    def __str__(self) -> str:
        return f"{self.jig} version {self.version}"


class JigCheck(models.Model):
    """A check on the master piece in two positions, before or after a shift."""

    jig = models.ForeignKey(Jig, models.PROTECT, related_name="checks")
    set_points = models.ForeignKey(SetPoints, models.PROTECT, related_name="+")
    key = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    length_off_mm = models.FloatField()
    included_off_deg = models.FloatField()
    passed = models.BooleanField()
    details = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["-at"]
        indexes = [models.Index(fields=["jig", "-at"], name="jig_check_newest")]

    def __str__(self) -> str:
        return f"{self.jig} {'good' if self.passed else 'out of check'}"
