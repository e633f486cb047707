"""Work out where every spool stands from its events again, and say where the stored columns differ."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from spools.actions.rebuild_status import Difference, rebuild_status
from spools.models import Spool


class Command(BaseCommand):
    """``manage.py rebuild_status`` compares; ``--write`` puts the columns right."""

    help = __doc__

    def add_arguments(self, parser: CommandParser) -> None:
        """Whether to write, and for which shop."""
        parser.add_argument("--write", action="store_true", help="put what differs right")
        parser.add_argument("--shop", type=int, help="one shop by its number; all of them otherwise")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print each difference; end with 1 when some are left."""
        shop_id = options["shop"]
        found = rebuild_status(write=options["write"], shop_id=shop_id)
        left = rebuild_status(write=False, shop_id=shop_id) if found and options["write"] else found
        labels = _labels({difference.spool_id for difference in found})
        for difference in found:
            self.stdout.write(_say(difference, labels[difference.spool_id]))
        looked_at = (Spool.objects.all() if shop_id is None else Spool.objects.filter(shop=shop_id)).count()
        if left:
            raise CommandError(
                f"{len(left)} columns of {len(labels)} spools differ; {looked_at} looked at. "
                "The events are the truth: run again with --write to put the columns right."
            )
        if found:
            self.stdout.write(f"{len(found)} columns of {len(labels)} spools put right; {looked_at} looked at.")
        else:
            self.stdout.write(f"{looked_at} spools stand where their events put them.")


def _labels(spool_ids: set[int]) -> dict[int, str]:
    return {spool.id: spool.label for spool in Spool.objects.filter(id__in=spool_ids).select_related("tie_in")}


def _say(difference: Difference, label: str) -> str:
    return (
        f"{label} (spool {difference.spool_id}): {difference.column} is {difference.stored!r}, "
        f"its events say {difference.from_events!r}"
    )
