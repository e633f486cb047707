"""Papers to print: the row is the truth, the task queue only a nudge."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from django.conf import settings
from django.db import models

from spools.models import Person, Shop

if TYPE_CHECKING:
    from django.db.models import QuerySet


class PaperJobQuerySet(models.QuerySet["PaperJob"]):
    """Paper jobs by who may see them."""

    def for_person(self, person: Person) -> QuerySet[PaperJob]:
        """Paper jobs of the person's own shop."""
        return self.filter(shop_id=person.the_shop_id)


class PaperJob(models.Model):
    """One packet or report: asked for once (``key``), drawn by whoever holds the lease, kept as one whole file."""

    class State(models.TextChoices):
        """Where the drawing stands."""

        WAITING = "waiting", "waits"
        RUNNING = "running", "being drawn"
        DONE = "done", "ready"
        FAILED = "failed", "failed"
        CANCELLED = "cancelled", "cancelled"

    shop = models.ForeignKey(Shop, models.PROTECT, related_name="paper_jobs")
    key = models.CharField(max_length=64, unique=True)
    sheet = models.CharField(max_length=20)
    paper = models.CharField(max_length=10, default="letter")
    spool_ids = models.JSONField(default=list)
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    done_count = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    leased_until = models.DateTimeField(null=True, blank=True)
    # A try's number is its lease: it only grows, so that who drew before never takes itself for who draws now.
    tries = models.PositiveIntegerField(default=0)
    tries_before = models.PositiveIntegerField(default=0, help_text="Tries made before it was last asked for.")
    file_name = models.CharField(max_length=120, blank=True)
    trouble = models.CharField(max_length=200, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    objects = PaperJobQuerySet.as_manager()

    class Meta:
        ordering = ["-asked_at"]
        indexes = [models.Index(fields=["state", "leased_until"], name="paper_job_to_do")]

    def __str__(self) -> str:
        return f"{self.sheet} {self.state}"

    @property
    def file(self) -> Path:
        """Where its one whole file lies once it is drawn."""
        return Path(settings.PAPERS_DIR) / f"packet-{self.pk}.pdf"

    @property
    def ready(self) -> bool:
        """Whether it can be handed out."""
        return self.state == self.State.DONE and self.file.exists()

    @property
    def over(self) -> bool:
        """Whether nobody draws it any more, and it can't be handed out: it may be asked for again."""
        return self.state not in {self.State.WAITING, self.State.RUNNING} and not self.ready

    @property
    def what(self) -> str:
        """What it is a packet of, in words: ``cut tickets``."""
        return f"{self.sheet.replace('_', ' ')}s"
