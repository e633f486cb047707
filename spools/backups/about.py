"""What a backup says of itself: of when, of which database, at which migrations, with how many rows."""

import hashlib
import json
from dataclasses import asdict, dataclass
from pathlib import Path

from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder


class BackupError(Exception):
    """What stands in the way of a backup or a restore, and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """The first file of every backup."""

    made_at: str
    vendor: str
    migrations: tuple[str, ...]
    rows: dict[str, int]
    sha256: str

    def as_text(self) -> str:
        """Return it as JSON."""
        return json.dumps(asdict(self), indent=1)


def read_about(text: bytes) -> About:
    """Return what ``as_text`` wrote. Raises ``BackupError``."""
    try:
        value = json.loads(text)
        return About(**value | {"migrations": tuple(value["migrations"])})
    except (ValueError, TypeError, KeyError) as trouble:
        raise BackupError("The backup doesn't say what it is: about.json can't be read. Take another one.") from trouble


def applied_migrations() -> tuple[str, ...]:
    """Return the migrations that this database has seen."""
    return tuple(sorted(f"{app}.{name}" for app, name in MigrationRecorder(connection).applied_migrations()))


def unknown_migrations(about: About) -> tuple[str, ...]:
    """Return the migrations of a backup that this release doesn't have: it was made by a newer one."""
    ours = {f"{app}.{name}" for app, name in MigrationLoader(None).disk_migrations}
    return tuple(sorted(set(about.migrations) - ours))


def missing_migrations(about: About) -> tuple[str, ...]:
    """Return the migrations that a backup has yet to see: it was made by an older release."""
    ours = {f"{app}.{name}" for app, name in MigrationLoader(None).disk_migrations}
    return tuple(sorted(ours - set(about.migrations)))


def sha256_of(path: Path) -> str:
    """Return a file's checksum."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def count_rows() -> dict[str, int]:
    """Return how many rows each table of the database holds."""
    with connection.cursor() as cursor:
        tables = sorted(connection.introspection.table_names(cursor))
        rows = {}
        for table in tables:
            cursor.execute(f"SELECT COUNT(*) FROM {connection.ops.quote_name(table)}")  # noqa: S608  the database's own names
            rows[table] = int(cursor.fetchone()[0])
    return rows


def say_difference(expected: dict[str, int], found: dict[str, int]) -> str:
    """Return which tables hold other numbers of rows than expected; empty if none do."""
    return ", ".join(
        f"{table}: {found.get(table, 0)} rows instead of {count}"
        for table, count in expected.items()
        if found.get(table, 0) != count
    )
