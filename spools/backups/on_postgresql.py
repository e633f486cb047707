"""A PostgreSQL shop: PostgreSQL's own tools write and read the dump, all of one moment, all or nothing."""

import os
import subprocess
from pathlib import Path
from shutil import which
from typing import IO

from django.db import connection, connections, transaction

from spools.backups.about import BackupError, count_rows

EMPTIED = "DROP SCHEMA public CASCADE; CREATE SCHEMA public;"


def dump_database(to: Path) -> dict[str, int]:
    """Write a dump; return the rows by table, counted in the very snapshot that is dumped."""
    tool = _tool("pg_dump")
    with transaction.atomic(durable=True), connection.cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        cursor.execute("SELECT pg_export_snapshot()")
        snapshot = cursor.fetchone()[0]
        rows = count_rows()
        where, env = _where()
        _run(
            [
                tool,
                *where,
                "--format=custom",
                "--no-owner",
                "--no-privileges",
                f"--snapshot={snapshot}",
                f"--file={to}",
            ],
            env,
        )
    _run([_tool("pg_restore"), "--list", str(to)], env)
    return rows


def put_in_place(dump: Path) -> None:
    """Empty the database and read a dump into it, in one transaction: if anything fails, all stays as it was."""
    reader, writer = _tool("pg_restore"), _tool("psql")
    where, env = _where()
    connections["default"].close()
    reading = [reader, "--no-owner", "--no-privileges", "--file=-", str(dump)]
    writing = [writer, *where, "--quiet", "--no-psqlrc", "--single-transaction", "--set=ON_ERROR_STOP=1"]
    with subprocess.Popen(reading, stdout=subprocess.PIPE, env=env) as source:  # noqa: S603  our own words only
        _run([*writing, f"--command={EMPTIED}", "--file=-"], env, stdin=source.stdout)
    if source.returncode:
        raise BackupError("pg_restore could not read the dump. Take another backup.")


def _tool(name: str) -> str:
    found = which(name)
    if found is None:
        raise BackupError(f"{name} is not installed here. Install PostgreSQL's client programs, then try again.")
    return found


def _where() -> tuple[list[str], dict[str, str]]:
    """Return how PostgreSQL's tools reach this database: the words of the command, and the password apart."""
    (_, *words), extra = connection.client.settings_to_cmd_args_env(connection.settings_dict, [])
    *options, name = words
    return [*options, f"--dbname={name}"], os.environ | (extra or {})


def _run(command: list[str], env: dict[str, str], *, stdin: IO[bytes] | None = None) -> None:
    done = subprocess.run(command, env=env, stdin=stdin, capture_output=True, check=False)  # noqa: S603  our own words
    if done.returncode:
        raise BackupError(f"{Path(command[0]).name} failed: {done.stderr.decode(errors='replace').strip()[-500:]}")
