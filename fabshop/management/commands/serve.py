"""Serve the shop on this machine: pages and papers in one process, no broker."""

from argparse import ArgumentParser
from typing import Any

from django.core.management import BaseCommand

from fabshop.serving import HOST, serve_here


class Command(BaseCommand):
    """``manage.py serve``: for one machine; for a shop of many, see "Running it grown" in the README."""

    help = "Serve the shop on this machine alone; papers are drawn on a thread of the same process."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the port."""
        parser.add_argument("--port", type=int, default=8000, help="port on 127.0.0.1 (8000)")

    def handle(self, *args: Any, **options: Any) -> None:
        """Serve until interrupted."""
        self.stdout.write(f"Serving http://{HOST}:{options['port']}/ ; stop with Ctrl+C.")
        self.stdout.flush()
        serve_here(port=options["port"])
