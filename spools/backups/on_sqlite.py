"""A SQLite shop: its one file copied whole while the shop works, and put back while it doesn't."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from django.db import connection, connections

from spools.backups.about import BackupError, say_difference


def copy_database(to: Path) -> dict[str, int]:
    """Write a whole copy of the database, taps going on meanwhile; return its rows by table, counted in the copy."""
    if connection.in_atomic_block:
        raise BackupError("A backup can't be taken inside a transaction.")
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(to)])
    return check_copy(to)


def check_copy(path: Path) -> dict[str, int]:
    """Open a copy, have SQLite look through it, and return its rows by table. Raises ``BackupError``."""
    try:
        with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as copy:
            verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
            if verdict != "ok":
                raise BackupError(f"The copy of the database is damaged: {verdict}.")
            tables = copy.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
            names = sorted(name for (name,) in tables.fetchall())
            return {name: copy.execute(f'SELECT COUNT(*) FROM "{name}"').fetchone()[0] for name in names}  # noqa: S608  the database's own names
    except sqlite3.DatabaseError as trouble:
        raise BackupError(f"The copy of the database can't be read: {trouble}. Take another backup.") from trouble


def put_in_place(copy: Path, rows: dict[str, int], *, aside: str) -> None:
    """Put a copy where the shop's database is. Raises ``BackupError``."""
    connections["default"].close()
    swap(copy, database_file(), rows, aside=aside)


def swap(copy: Path, database: Path, rows: dict[str, int], *, aside: str) -> None:
    """Check a copy and put it in a database's place; what was there is kept beside it, or dropped if ``aside`` is "".

    Raises ``BackupError``: rows are missing in the copy, or somebody still has the database open.
    """
    wrong = say_difference(rows, check_copy(copy))
    if wrong:
        raise BackupError(f"The backup doesn't hold what it says: {wrong}. Take another one.")
    if database.exists():
        _close_the_log(database)
        if aside:
            database.rename(database.with_name(f"{database.name}{aside}"))
    with copy.open("rb+") as file:
        os.fsync(file.fileno())
    copy.replace(database)


def database_file() -> Path:
    """Return where the shop's database lies. Raises ``BackupError`` for one that lies nowhere."""
    name = str(connection.settings_dict["NAME"])
    if ":memory:" in name or "mode=memory" in name:
        raise BackupError("This database is in memory: there is no file to put a backup in.")
    return Path(name)


def _close_the_log(database: Path) -> None:
    """Bring everything from the log into the file; a log that stays means that somebody has it open."""
    with closing(sqlite3.connect(database, timeout=5)) as last:
        last.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    if any(database.with_name(f"{database.name}{end}").exists() for end in ("-wal", "-shm")):
        raise BackupError("The shop is still running on this database. Stop its server first, then restore again.")
