"""Real machines that a test may kill: a Redis of its own, and a worker with all its children."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings
from django.db import connection

from fabshop.celery import app
from spools import background
from spools.flow.roles import Role
from spools.models import Person
from tests.factories.jobs import make_job
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_spool

ROOT = Path(__file__).parents[2]
QUICK = {"PAPER_LEASE_S": "3", "SWEEP_EVERY_S": "1"}  # so that a test needs no minute


def what_is_missing() -> str:
    """Say why real workers can't be run here; empty if they can."""
    if connection.vendor != "postgresql":
        return "worker processes share no database but PostgreSQL with the tests: set DATABASE_URL"
    if not shutil.which("redis-server"):
        return "no redis-server on this machine"
    return ""


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


class OwnRedis:
    """A Redis server of the test's own."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, free_port()
        self.server: subprocess.Popen[bytes] | None = None
        self.address = f"redis://127.0.0.1:{self.port}/0"

    def start(self) -> None:
        """Start it and wait until it answers."""
        program = shutil.which("redis-server") or "redis-server"
        said = ["--bind", "127.0.0.1", "--port", str(self.port), "--save", "", "--appendonly", "no"]
        with (self.folder / "redis.log").open("ab") as log:
            self.server = subprocess.Popen([program, *said, "--dir", str(self.folder)], stdout=log, stderr=log)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            with socket.socket() as one:
                if one.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            time.sleep(0.05)
        raise TimeoutError("Redis did not start.")

    def kill(self) -> None:
        """Kill it; what it held is lost."""
        if self.server:
            self.server.kill()
            self.server.wait()
            self.server = None


class WorkerTree:
    """One celery worker with its children, on the database of this process."""

    def __init__(self, folder: Path, broker: str, **env: str) -> None:
        self.folder = folder
        self.env = os.environ | {"DATABASE_URL": _database_url(), "REDIS_URL": broker, "LOG_LEVEL": "INFO"} | env
        self.env["PAPERS_DIR"] = str(settings.PAPERS_DIR)
        self.tree: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start the worker; returns at once."""
        command = [sys.executable, "-m", "celery", "-A", "fabshop", "worker", "--concurrency", "2", "-l", "INFO"]
        with (self.folder / "worker.log").open("ab") as log:
            self.tree = subprocess.Popen(
                command, cwd=ROOT, env=self.env, stdout=log, stderr=log, start_new_session=True
            )

    def kill(self) -> None:
        """Kill the worker and all its children in one blow, as a power cut would."""
        if self.tree:
            os.killpg(self.tree.pid, signal.SIGKILL)
            self.tree.wait()
            self.tree = None


def _database_url() -> str:
    held = connection.settings_dict
    word = f":{held['PASSWORD']}" if held["PASSWORD"] else ""
    return f"postgres://{held['USER']}{word}@{held['HOST']}:{held['PORT'] or 5432}/{held['NAME']}"


@contextmanager
def asking_through(broker: str) -> Iterator[None]:
    """Let this process send its tasks through that broker, with the settings of a real server."""
    before = {name: app.conf[name] for name in ("broker_url", "broker_transport_options", "task_always_eager")}

    def use(values: dict[str, object]) -> None:
        app.conf.update(values)
        app._pool = app.amqp._producer_pool = None
        background._no_try_before = 0.0

    use({"broker_url": broker, "broker_transport_options": settings.AT_ONCE, "task_always_eager": False})
    try:
        yield
    finally:
        use(before)


class SilentBroker:
    """A broker that takes every call and never answers."""

    def __init__(self) -> None:
        self.ear = socket.socket()
        self.ear.bind(("127.0.0.1", 0))
        self.ear.listen(64)
        self.ear.setblocking(False)
        self.address = f"redis://127.0.0.1:{self.ear.getsockname()[1]}/0"
        self.open_lines: list[socket.socket] = []

    def calls(self) -> int:
        """Return how many have called so far."""
        while True:
            try:
                self.open_lines.append(self.ear.accept()[0])
            except BlockingIOError:
                return len(self.open_lines)

    def close(self) -> None:
        """Hang up."""
        for line in (*self.open_lines, self.ear):
            line.close()


def some_spools(count: int) -> tuple[list[int], Person]:
    """Make spools, and somebody who may print them."""
    job = make_job(make_shop())
    made = [make_spool(str(number), job=job).id for number in range(1, count + 1)]
    return made, make_person(job.shop, Role.FOREMAN)
