"""Take a backup of the whole shop, and put one back."""

import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.db import connection

from spools.backups import on_postgresql, on_sqlite
from spools.backups.about import (
    About,
    BackupError,
    applied_migrations,
    count_rows,
    missing_migrations,
    say_difference,
    sha256_of,
    unknown_migrations,
)
from spools.backups.archive import DATABASE, about_archive, unpack_archive, write_archive
from spools.triggers import guard_tables


def take_backup(to: Path, *, at: datetime) -> tuple[About, int]:
    """Write one .tar with the database, the uploads and the papers; return what it says and how many files it has.

    The shop goes on working meanwhile; the database is of one moment. Raises ``BackupError``.
    """
    if to.exists():
        raise BackupError(f"{to} is there already: choose another name.")
    to.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=to.parent, prefix=".backup-") as folder:
        database = Path(folder) / DATABASE
        write = on_sqlite.copy_database if connection.vendor == "sqlite" else on_postgresql.dump_database
        rows = write(database)
        about = About(
            made_at=at.isoformat(),
            vendor=connection.vendor,
            migrations=applied_migrations(),
            rows=rows,
            sha256=sha256_of(database),
        )
        return about, write_archive(to, about, database, _folders())


def put_back(path: Path, *, at: datetime, replace: bool = False) -> About:
    """Restore a backup into an empty shop; with ``replace`` what is there gives way, files of it are kept aside.

    Raises ``BackupError``: not a backup, damaged, of another kind of database, of a newer release, or rows are here.
    """
    about = about_archive(path)
    empty = _may_come_here(about, replace=replace)
    aside = f".before-{at:%Y%m%d-%H%M%S}"
    beside = on_sqlite.database_file().parent if about.vendor == "sqlite" else settings.VAR_DIR
    with tempfile.TemporaryDirectory(dir=beside, prefix=".restore-") as folder:
        unpack_archive(path, Path(folder), about)
        if about.vendor == "sqlite":
            on_sqlite.put_in_place(Path(folder) / DATABASE, about.rows, aside="" if empty else aside)
        else:
            on_postgresql.put_in_place(Path(folder) / DATABASE)
        for name, ours in _folders().items():
            _put_folder_back(Path(folder) / name, ours, aside=aside)
    wrong = say_difference(about.rows, count_rows())
    if wrong:
        raise BackupError(f"Restored, but not whole: {wrong}. Don't work with it; restore another backup.")
    for app in apps.get_app_configs():
        guard_tables(app)
    return about


def still_to_migrate(about: About) -> bool:
    """Tell whether a restored database is of an older release than this one."""
    return bool(missing_migrations(about))


def _may_come_here(about: About, *, replace: bool) -> bool:
    """Refuse what can't or mustn't be restored here; return whether this database is empty."""
    if about.vendor != connection.vendor:
        raise BackupError(
            f"This backup is of another kind of database ({about.vendor}) than this shop's ({connection.vendor}): "
            "set DATABASE_URL to a database of that kind."
        )
    newer = unknown_migrations(about)
    if newer:
        raise BackupError(f"This backup is of a newer release ({', '.join(newer[:3])}): install that release first.")
    kept = {table: count for table, count in count_rows().items() if count and table in _our_tables()}
    if kept and not replace:
        words = ", ".join(f"{count} in {table}" for table, count in sorted(kept.items())[:3])
        raise BackupError(f"This database is not empty ({words}). To replace all of it, say --replace.")
    full = [folder for folder in _folders().values() if folder.exists() and any(folder.iterdir())]
    if full and not replace:
        raise BackupError(f"{full[0]} is not empty. To replace what is there, say --replace.")
    return not kept


def _our_tables() -> set[str]:
    """Return the tables that only work in the shop fills; a fresh database has rows in the others already."""
    ours = (apps.get_app_config(label) for label in ("spools", "cutlists"))
    return {model._meta.db_table for app in ours for model in app.get_models()}


def _folders() -> dict[str, Path]:
    return {"media": Path(settings.MEDIA_ROOT), "papers": Path(settings.PAPERS_DIR)}


def _put_folder_back(restored: Path, ours: Path, *, aside: str) -> None:
    if ours.exists() and any(ours.iterdir()):
        shutil.move(ours, ours.with_name(f"{ours.name}{aside}"))
    if restored.exists():
        ours.parent.mkdir(parents=True, exist_ok=True)
        if ours.exists():
            ours.rmdir()
        shutil.move(restored, ours)
