"""Wiring only: settings, addresses, tasks, health, who may open what."""

from fabshop.celery import app as celery_app

__all__ = ["celery_app"]
