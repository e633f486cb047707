"""Put a backup back: into an empty database, or in place of what is there if you say so. Stop the server first."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from spools.backups.about import BackupError
from spools.backups.keeping import put_back, still_to_migrate
from spools.clock import now


class Command(BaseCommand):
    """``manage.py restore fabshop-20261125-063000.tar``."""

    help = __doc__
    requires_system_checks = []  # it must work when some page can't even be imported

    def add_arguments(self, parser: CommandParser) -> None:
        """Which backup, and whether it may replace something."""
        parser.add_argument("backup", help="the .tar that the backup command wrote")
        parser.add_argument("--replace", action="store_true", help="replace a database that is not empty")

    def handle(self, *args: Any, **options: Any) -> None:
        """Restore, count, and say what to do next."""
        try:
            about = put_back(Path(options["backup"]), at=now(), replace=options["replace"])
        except BackupError as trouble:
            raise CommandError(str(trouble)) from trouble
        self.stdout.write(f"The shop of {about.made_at}: {sum(about.rows.values())} rows, as many as were backed up.")
        if still_to_migrate(about):
            self.stdout.write("It is of an older release: run manage.py migrate before you start the shop.")
