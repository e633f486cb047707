"""Write one file with everything the shop knows: the database, the uploads and the papers."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from spools.backups.about import BackupError
from spools.backups.keeping import take_backup
from spools.clock import now


class Command(BaseCommand):
    """``manage.py backup [file or folder]``; the shop goes on working meanwhile."""

    help = __doc__
    requires_system_checks = []  # it must work when some page can't even be imported

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to."""
        parser.add_argument("to", nargs="?", help="a .tar file or a folder; var/backups otherwise")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write it and say what is in it."""
        at = now()
        to = Path(options["to"]) if options["to"] else settings.VAR_DIR / "backups"
        if to.suffix != ".tar":
            to /= f"fabshop-{at:%Y%m%d-%H%M%S}.tar"
        try:
            about, files = take_backup(to, at=at)
        except BackupError as trouble:
            raise CommandError(str(trouble)) from trouble
        rows = sum(about.rows.values())
        self.stdout.write(f"{to}: {rows} rows in {len(about.rows)} tables and {files} files, opened and counted.")
