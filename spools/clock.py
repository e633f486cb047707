"""The one place that reads the clock for background work; pages take the time once at their own edge."""

from datetime import datetime

from django.utils import timezone


def now() -> datetime:
    """Return this moment in UTC."""
    return timezone.now()
