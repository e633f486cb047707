"""How far each person has read the list of what concerns them, and how far it was mailed to them."""

from django.db import models

from spools.models.people import Person


class NoticeMark(models.Model):
    """One person's two marks in the run of events; the list itself is read from the events."""

    person = models.OneToOneField(Person, models.CASCADE, related_name="notice_mark")
    seen_event = models.PositiveBigIntegerField(default=0)
    mailed_event = models.PositiveBigIntegerField(default=0)

    def __str__(self) -> str:
        return f"{self.person} up to {self.seen_event}"
