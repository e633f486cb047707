"""What a job builds a size from: schedule, steel, ends and turn; a new tie-in of that size starts with it."""

from django.db import models

from geometry.tables.odd_sizes import say_pipe
from spools.models.jobs import Job


class PipeSpec(models.Model):
    """One size of one job. Changing it changes no tie-in that is there already."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="pipe_specs")
    nps = models.CharField(max_length=8)
    schedule = models.CharField(max_length=8, default="40")
    material = models.CharField(max_length=30, default="A53 B")
    end_a = models.CharField(max_length=20, default="beveled", help_text="end at the main")
    end_b = models.CharField(max_length=20, default="grooved", help_text="end at the drain")
    bend_kind = models.CharField(max_length=20, default="trimmed_elbow")

    class Meta:
        ordering = ["job", "id"]
        constraints = [models.UniqueConstraint(fields=["job", "nps"], name="pipe_spec_once_in_job")]

    def __str__(self) -> str:
        return f"{say_pipe(self.nps, self.schedule)} {self.material}"
