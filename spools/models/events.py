"""What happened to spools: the append-only table that every status comes from."""

from django.db import models

from spools.models.floor import Bench
from spools.models.people import Person


class Event(models.Model):
    """One thing that happened. Only ``spools.ledger`` writes here; the database refuses changes and deletions."""

    append_only = True  # spools.triggers makes the database refuse changes

    spool = models.ForeignKey("spools.Spool", models.PROTECT, related_name="events", db_index=False)
    number = models.PositiveIntegerField()
    code = models.CharField(max_length=16)
    targets = models.JSONField(default=list)
    withdraws = models.JSONField(default=list)
    person = models.ForeignKey(Person, models.PROTECT, related_name="events")
    bench = models.ForeignKey(Bench, models.PROTECT, null=True, blank=True, related_name="events", db_index=False)
    load = models.ForeignKey("spools.Load", models.PROTECT, null=True, blank=True, related_name="events")
    done_at = models.DateTimeField(help_text="when it happened, as told")
    received_at = models.DateTimeField(help_text="when it reached us; never before the event in front of it")
    key = models.CharField(max_length=64, unique=True, help_text="the caller's own key: a repeat adds nothing")
    fingerprint = models.CharField(max_length=64)
    undoes = models.OneToOneField("self", models.PROTECT, null=True, blank=True, related_name="undone_by")
    reason = models.CharField(max_length=300, blank=True)
    entered_later = models.BooleanField(default=False)
    details = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["spool", "number"]
        constraints = [models.UniqueConstraint(fields=["spool", "number"], name="event_number_once_in_spool")]
        indexes = [
            models.Index(fields=["-received_at"], name="event_newest"),
            models.Index(fields=["code", "received_at"], name="event_by_code"),
            models.Index(fields=["bench", "-received_at", "-id"], name="event_at_bench"),
        ]

    def __str__(self) -> str:
        return f"{self.spool_id} #{self.number} {self.code}"
