"""The shop's app; puts the tables' guards back after every migrate."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class SpoolsConfig(AppConfig):
    """Jobs, readings, spools, events, benches, loads, turnaround."""

    name = "spools"

    def ready(self) -> None:
        """Keep the append-only tables guarded: SQLite drops triggers whenever it rebuilds a table."""
        from spools.triggers import guard_tables  # noqa: PLC0415  needs the app registry

        post_migrate.connect(guard_tables, sender=self, dispatch_uid="spools.guard_tables")
