"""Make the demo shop, play its month, print its papers, say where to look, and serve it."""

from argparse import ArgumentParser
from datetime import datetime
from pathlib import Path
from time import monotonic
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management import BaseCommand, CommandError, call_command
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from cutlists.demo.papers import print_papers
from cutlists.demo.people import crew_of
from cutlists.demo.play import play
from cutlists.demo.scenario import ZONE
from cutlists.demo.shop import demo_shop, other_shops, played_to
from cutlists.demo.telling import tell_again, tell_papers, tell_sign_ins, tell_totals
from cutlists.demo.totals import totals_of
from fabshop.navigation import HOME_OF
from fabshop.serving import HOST, serve_here
from spools.flow.roles import WORDS
from spools.models import Shop
from spools.triggers import tables_unguarded

GUARDED_APPS = ("spools", "cutlists")


class Command(BaseCommand):
    """``manage.py demo``: safe to repeat; a demo that is there already is shown, not made twice."""

    help = "Make the demo job, play a month of it through the product's own deeds, and serve it on this machine."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the port, whether to serve, whether to begin anew, and up to when."""
        parser.add_argument("--no-serve", action="store_true", help="stop before serving")
        parser.add_argument("--port", type=int, default=8000, help="port on 127.0.0.1 (8000)")
        parser.add_argument("--reset", action="store_true", help="throw the demo away and play it again, up to today")
        parser.add_argument("--at", type=moment, help="play up to the last shift before this, such as 2026-03-12T10:00")

    def handle(self, *args: Any, **options: Any) -> None:
        """Migrate, play once, tell, serve."""
        now = min(options["at"] or timezone.now(), timezone.now())
        if options["reset"]:
            throw_away()
        call_command("migrate", verbosity=0, interactive=False)
        shop = demo_shop()
        if shop is None:
            self._play(now)
        else:
            self._say(tell_again(shop, played_to(shop)))
            self._say(*tell_totals(shop, totals_of(crew_of(shop).manager, at=now)))
        address = f"http://{HOST}:{options['port']}"
        pages = {WORDS[role]: f"{address}{reverse(page)}" for role, page in HOME_OF.items()}
        self._say(f"Open {address}/", *tell_sign_ins(pages))
        if not options["no_serve"]:
            self._say("Serving; stop with Ctrl+C.")
            serve_here(port=options["port"])

    def _play(self, now: datetime) -> None:
        self._say("Playing a month of the demo job through the product's own deeds ...")
        began = monotonic()
        diary = play(now)
        shop, manager = diary.ground.shop, diary.ground.crew.manager
        totals = totals_of(manager, at=diary.month.end)
        folder = print_papers(diary.ground.crew.foreman, totals.promise, at=now)
        self._say(
            f"Played in {monotonic() - began:.0f} s.", "", *tell_totals(shop, totals), "", *tell_papers(folder), ""
        )

    def _say(self, *lines: str) -> None:
        for line in lines:
            self.stdout.write(line)
        self.stdout.flush()


def moment(text: str) -> datetime:
    """Return a moment as it is typed on the command line, on the demo shop's clock if it names no other."""
    at = datetime.fromisoformat(text)
    return at if at.tzinfo else at.replace(tzinfo=ZoneInfo(ZONE))


def throw_away() -> None:
    """Begin with an empty database: a new file, or where there is no file, emptied tables.

    What happened is never deleted anywhere else, so a database that holds another shop is left alone.
    """
    tables = connection.introspection.table_names()
    others = other_shops() if Shop._meta.db_table in tables else []
    if others:
        raise CommandError(
            f"This database holds {', '.join(others)} too, so nothing was thrown away. "
            "Give the demo a database of its own: set FABSHOP_VAR to an empty folder."
        )
    name = str(connection.settings_dict["NAME"])
    if connection.vendor == "sqlite" and Path(name).is_file():
        connection.close()
        for ending in ("", "-wal", "-shm"):
            Path(name + ending).unlink(missing_ok=True)
    elif Shop._meta.db_table in tables:
        with tables_unguarded(*GUARDED_APPS):
            call_command("flush", verbosity=0, interactive=False)
