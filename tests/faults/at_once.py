"""Several people at once: each in a thread with a connection of their own, all let go at the same moment."""

import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.db import connection, connections
from django.db.utils import load_backend

from spools.errors import ShopError

PEOPLE = 8


@contextmanager
def a_real_database(folder: Path) -> Iterator["Floor"]:
    """Give what several connections can really share.

    PostgreSQL's test database is that already. SQLite's lives in memory, where its locks are not those of a file: so it
    is copied to a file first, and every thread, this one too, works there for the block.
    """
    if connection.vendor == "postgresql":
        yield Floor(None)
        return
    file = folder / "shop.sqlite3"
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(file)])
    floor, in_memory = Floor(file), connections["default"]
    floor.open()
    connections["default"].ensure_connection()  # the first one turns the new file to WAL, and must be alone for that
    try:
        yield floor
    finally:
        connections["default"].close()
        connections["default"] = in_memory


class Floor:
    """Where the people are; ``file`` is SQLite's."""

    def __init__(self, file: Path | None) -> None:
        self.file = file

    def open(self) -> None:
        """Open a connection of this thread's own."""
        if self.file is not None:
            chosen = connections.settings["default"] | {"NAME": str(self.file)}
            connections["default"] = load_backend(chosen["ENGINE"]).DatabaseWrapper(chosen, "default")

    def all_at_once(self, days: Sequence[Sequence[Callable[[], Any]]]) -> list[list[Any]]:
        """Let each person live through their taps, all starting together; return what each tap was answered.

        A refusal of the shop is an answer. Anything else that is raised is raised here too.
        """
        start = threading.Barrier(len(days), timeout=30)

        def live(taps: Sequence[Callable[[], Any]]) -> list[Any]:
            self.open()
            try:
                start.wait()
                return [_answer(tap) for tap in taps]
            finally:
                connections["default"].close()

        with ThreadPoolExecutor(len(days)) as people:
            return [found.result(timeout=60) for found in [people.submit(live, taps) for taps in days]]


def _answer(tap: Callable[[], Any]) -> Any:
    try:
        return tap()
    except ShopError as refusal:
        return refusal
