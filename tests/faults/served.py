"""The product as it runs grown: gunicorn over PostgreSQL, on a port and a database of its own."""

import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
from psycopg import sql

HOST = "127.0.0.1"
AS_IN_README = ("--worker-class", "gthread", "--workers", "2", "--threads", "8")
STARTS_WITHIN_S = 60.0
ROOT = Path(__file__).parents[2]


@contextmanager
def database_beside(url: str, suffix: str) -> Iterator[str]:
    """Make an empty database next to the one of ``url``, give its address, and drop it at the end."""
    name = f"{urlsplit(url).path.strip('/')}_{suffix}"
    at_home = urlsplit(url)._replace(path="/postgres").geturl()
    with psycopg.connect(at_home, autocommit=True) as home:
        home.execute(sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)").format(sql.Identifier(name)))
        home.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        try:
            yield urlsplit(url)._replace(path=f"/{name}").geturl()
        finally:
            home.execute(sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)").format(sql.Identifier(name)))


@contextmanager
def served(
    database_url: str, *, options: tuple[str, ...] = AS_IN_README, env: Mapping[str, str] | None = None
) -> Iterator[tuple[int, int]]:
    """Serve that database; give the port and gunicorn's process id once it answers."""
    port = _free_port()
    with tempfile.TemporaryDirectory() as var:
        chosen = os.environ | {
            "DATABASE_URL": database_url,
            "FABSHOP_VAR": var,
            "SECRET_KEY": "of-one-run",
        }
        chosen.pop("REDIS_URL", None)
        command = (sys.executable, "-m", "gunicorn", "--config", "python:fabshop.gunicorn_conf", "fabshop.wsgi")
        server = subprocess.Popen(
            (*command, "--bind", f"{HOST}:{port}", "--log-level", "warning", *options),
            env=chosen | dict(env or {}),
            cwd=ROOT,
        )
        try:
            _wait_for(port, server)
            yield port, server.pid
        finally:
            server.terminate()
            server.wait(timeout=30)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def _wait_for(port: int, server: "subprocess.Popen[bytes]") -> None:
    until = time.monotonic() + STARTS_WITHIN_S
    while time.monotonic() < until:
        if server.poll() is not None:
            raise RuntimeError(f"gunicorn ended with {server.returncode}")
        try:
            socket.create_connection((HOST, port), timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError("gunicorn does not answer")
