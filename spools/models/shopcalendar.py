"""When the shop works: shifts by weekday, closed days and worked Saturdays."""

from django.db import models

from spools.models.people import Shop


class Shift(models.Model):
    """One shift on one weekday (0 is Monday), in the shop's own time."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="shifts")
    weekday = models.PositiveSmallIntegerField()
    start = models.TimeField()
    end = models.TimeField()

    class Meta:
        ordering = ["weekday", "start"]
        constraints = [models.UniqueConstraint(fields=["shop", "weekday", "start"], name="shift_once")]

    def __str__(self) -> str:
        return f"{self.weekday} {self.start}-{self.end}"


class ClosedDay(models.Model):
    """A day the shop does not work."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="closed_days")
    day = models.DateField()
    reason = models.CharField(max_length=60)

    class Meta:
        ordering = ["day"]
        constraints = [models.UniqueConstraint(fields=["shop", "day"], name="closed_day_once")]

    def __str__(self) -> str:
        return f"{self.day} {self.reason}"


class WorkedDay(models.Model):
    """A day worked although its weekday has no shift, such as an overtime Saturday."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="worked_days")
    day = models.DateField()
    start = models.TimeField()
    end = models.TimeField()

    class Meta:
        ordering = ["day"]
        constraints = [models.UniqueConstraint(fields=["shop", "day", "start"], name="worked_day_once")]

    def __str__(self) -> str:
        return f"{self.day} {self.start}-{self.end}"
