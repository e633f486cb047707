"""A shop as people meet it: a real server process on a database file of its own, and a line to it that can be bad."""

import http.client
import json
import os
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.browser.bad_line import BadLine

ROOT = Path(__file__).parents[2]
START_LIMIT_S = 180.0
ROWS_LIMIT_S = 30.0


def run_python(var: Path, *arguments: str) -> str:
    """Run one of our programs on the shop's own database and return what it printed."""
    done = subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, env=environment(var), capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise AssertionError(f"{arguments} failed:\n{done.stdout}\n{done.stderr}")
    return done.stdout


def environment(var: Path) -> dict[str, str]:
    """The environment of a server on a database file in ``var``; nothing of the tests' own settings is taken over."""
    kept = {
        name: value for name, value in os.environ.items() if name not in {"DATABASE_URL", "REDIS_URL", "MEDIA_ROOT"}
    }
    return kept | {"FABSHOP_VAR": str(var), "DJANGO_SETTINGS_MODULE": "fabshop.settings", "PYTHONUNBUFFERED": "1"}


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Mother:
    """Starts servers as forks of one process that has loaded the product already."""

    def __init__(self) -> None:
        self.var = TemporaryDirectory()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.mother"],
            cwd=ROOT,
            env=environment(Path(self.var.name)),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def start(self, var: Path, port: int) -> int:
        """Start a server on the shop in a folder and return the number of its process."""
        assert self.process.stdin
        assert self.process.stdout
        self.process.stdin.write(json.dumps({"var": str(var), "port": port}) + "\n")
        self.process.stdin.flush()
        return int(self.process.stdout.readline())


mother = cache(Mother)  # ends with the tests: its input closes


def runs(process: int) -> bool:
    """Tell whether a process is there."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


@dataclass
class LiveShop:
    """One running shop. ``url`` is what a browser opens; ``line`` lies between it and the server."""

    var: Path
    port: int = field(default_factory=free_port)
    process: int | None = None
    line: BadLine = field(init=False)

    def __post_init__(self) -> None:
        """Put the line in place."""
        self.line = BadLine(self.port)

    @property
    def url(self) -> str:
        """The shop's address."""
        return f"http://127.0.0.1:{self.line.port}"

    def start(self) -> None:
        """Start the server and wait until it has given a page."""
        self.process = mother().start(self.var, self.port)
        until = time.monotonic() + START_LIMIT_S
        while time.monotonic() < until:
            try:
                self._first_page()
            except (OSError, http.client.HTTPException):
                if not runs(self.process):
                    break
                time.sleep(0.05)
            else:
                return
        raise AssertionError(self.log())

    def _first_page(self) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=START_LIMIT_S)
        try:
            connection.request("GET", "/sign-in/")
            connection.getresponse().read()
        finally:
            connection.close()

    def stop(self) -> None:
        """End the server at once."""
        if self.process:
            os.kill(self.process, signal.SIGKILL)
            while runs(self.process):
                time.sleep(0.01)
            self.process = None

    def close(self) -> None:
        """End the server and the line."""
        self.stop()
        self.line.close()

    def seed(self, name: str) -> None:
        """Fill the database by a function of ``tests.browser.seeds``."""
        run_python(self.var, "-m", "tests.browser.seeds", name)

    def rows(self, sql: str, *values: Any) -> list[tuple[Any, ...]]:
        """Return rows of the shop's database as they stand on the disk."""
        with sqlite3.connect(f"file:{self.var / 'shop.sqlite3'}?mode=ro", uri=True, timeout=20) as database:
            return database.execute(sql, values).fetchall()

    def wait_for_rows(self, sql: str, rows: list[tuple[Any, ...]]) -> None:
        """Wait until the shop's database answers so."""
        until = time.monotonic() + ROWS_LIMIT_S
        while self.rows(sql) != rows:
            if time.monotonic() > until:
                raise AssertionError(f"{sql} still gives {self.rows(sql)}, not {rows}")
            time.sleep(0.05)

    def change(self, sql: str, *values: Any) -> None:
        """Change the shop's database behind its back, as a colleague's deed would."""
        with sqlite3.connect(self.var / "shop.sqlite3", timeout=20) as database:
            database.execute(sql, values)

    def log(self) -> str:
        """What the server said."""
        return (self.var / "server.log").read_text()


def copied(made: Path, var: Path) -> LiveShop:
    """Return a shop on a copy of a migrated database."""
    var.mkdir(parents=True, exist_ok=True)
    for file in made.iterdir():
        if file.is_file():
            shutil.copy(file, var / file.name)
    return LiveShop(var)
