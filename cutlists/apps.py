"""The saw and the paper."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class CutlistsConfig(AppConfig):
    """Stock, cut plans, tickets and every printed sheet."""

    name = "cutlists"

    def ready(self) -> None:
        """Keep the stock ledger guarded after every migrate."""
        from spools.triggers import guard_tables  # noqa: PLC0415  needs the app registry

        post_migrate.connect(guard_tables, sender=self, dispatch_uid="cutlists.guard_tables")
