"""A backup is really put back: every row and file is there again, and what happened still can't be changed."""

import json
import os
import sqlite3
import subprocess
import sys
import tarfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as django_settings
from django.core.management import CommandError, call_command
from django.db import connection

from spools.backups.about import About, BackupError, count_rows, read_about, sha256_of
from spools.backups.archive import about_archive, unpack_archive, write_archive
from spools.backups.keeping import put_back, take_backup
from spools.backups.on_sqlite import swap
from tests.factories.spools import NOON, make_spool
from tests.factories.stock import make_bars


class EmptyPlace:
    """Another computer: its own folder and its own empty database of the same kind as the tests'."""

    def __init__(self, var: Path) -> None:
        self.var = var
        self.name = f"{connection.settings_dict['NAME']}_restored"
        self.env = os.environ | {"FABSHOP_VAR": str(var), "DJANGO_SETTINGS_MODULE": "fabshop.settings"}
        if connection.vendor == "postgresql":
            self.env["DATABASE_URL"] = f"{os.environ['DATABASE_URL'].rsplit('/', 1)[0]}/{self.name}"
            self._sql(f'DROP DATABASE IF EXISTS "{self.name}"')
            self._sql(f'CREATE DATABASE "{self.name}"')

    def close(self) -> None:
        """Leave nothing behind."""
        if connection.vendor == "postgresql":
            self._sql(f'DROP DATABASE IF EXISTS "{self.name}"')

    def run(self, *words: str) -> subprocess.CompletedProcess:
        """Run one of our commands there."""
        return subprocess.run(
            [sys.executable, "manage.py", *words],
            env=self.env,
            check=False,
            cwd=django_settings.BASE_DIR,
            capture_output=True,
            text=True,
        )

    def ask(self, program: str) -> Any:
        """Run a program there that prints JSON."""
        done = self.run("shell", "--no-imports", "--command", program)
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    def _sql(self, statement: str) -> None:
        with connection.cursor() as cursor:
            cursor.execute(statement)


COUNT_AND_TAMPER = """
import json
from django.db import DatabaseError, connection
from spools.backups.about import count_rows
from spools.actions.rebuild_status import rebuild_status
answers = []
for table in ("spools_event", "spools_reading", "cutlists_stockevent"):
    for attempt in (f"UPDATE {table} SET key = 'x'", f"DELETE FROM {table}"):
        try:
            connection.cursor().execute(attempt)
            answers.append(f"{attempt}: done")
        except DatabaseError as refusal:
            answers.append("never changed" in str(refusal))
print(json.dumps([count_rows(), answers, len(rebuild_status(write=False))]))
"""


@pytest.fixture
def place(tmp_path) -> Iterator[EmptyPlace]:
    there = EmptyPlace(tmp_path / "there")
    yield there
    there.close()


@pytest.fixture
def shop(unguarded_after, settings) -> None:
    """A shop with work in every append-only table, an upload, a field photo and a paper."""
    make_bars(make_spool().shop)
    uploads = ((settings.MEDIA_ROOT, name) for name in ("certificates/7K2214.pdf", "photos/1.jpg"))
    for folder, name in (*uploads, (settings.PAPERS_DIR, "12.pdf")):
        (Path(folder) / name).parent.mkdir(parents=True, exist_ok=True)
        (Path(folder) / name).write_bytes(f"{name} itself".encode())


def test_a_backup_put_back_elsewhere_is_the_same_shop_and_replaces_another_only_when_told(shop, place, tmp_path):
    before = count_rows()
    about, files = take_backup(tmp_path / "all.tar", at=NOON)
    assert about.rows == before
    assert files == 3

    done = place.run("restore", str(tmp_path / "all.tar"))
    assert done.returncode == 0, done.stderr
    assert f"{sum(before.values())} rows, as many as were backed up" in done.stdout
    rows, tampering, differences = place.ask(COUNT_AND_TAMPER)
    assert rows == before
    assert rows["spools_event"] >= 1
    assert tampering == [True] * 6
    assert differences == 0
    assert (place.var / "media/certificates/7K2214.pdf").read_bytes() == b"certificates/7K2214.pdf itself"
    assert (place.var / "media/photos/1.jpg").read_bytes() == b"photos/1.jpg itself"
    assert (place.var / "papers/12.pdf").read_bytes() == b"12.pdf itself"

    refused = place.run("restore", str(tmp_path / "all.tar"))
    assert refused.returncode == 1
    assert "This database is not empty" in refused.stderr
    assert "--replace" in refused.stderr
    replaced = place.run("restore", str(tmp_path / "all.tar"), "--replace")
    assert replaced.returncode == 0, replaced.stderr
    assert len(list(place.var.glob("media.before-*/certificates/7K2214.pdf"))) == 1
    if connection.vendor == "sqlite":
        assert len(list(place.var.glob("shop.sqlite3.before-*"))) == 1


def test_a_database_that_somebody_has_open_is_not_swapped_under_their_feet(tmp_path):
    ours, copy = tmp_path / "shop.sqlite3", tmp_path / "copy.sqlite3"
    for path in (ours, copy):
        with closing(sqlite3.connect(path)) as made:
            made.executescript("PRAGMA journal_mode=WAL; CREATE TABLE t (x); INSERT INTO t VALUES (1);")
    with closing(sqlite3.connect(ours)) as server:
        server.execute("SELECT COUNT(*) FROM t").fetchone()
        with pytest.raises(BackupError, match="still running"):
            swap(copy, ours, {"t": 1}, aside=".before")
    swap(copy, ours, {"t": 1}, aside=".before")
    assert (tmp_path / "shop.sqlite3.before").exists()
    assert not copy.exists()


def test_a_copy_with_fewer_rows_than_it_says_is_not_put_in_place(tmp_path):
    with closing(sqlite3.connect(tmp_path / "copy.sqlite3")) as made:
        made.executescript("CREATE TABLE t (x); INSERT INTO t VALUES (1);")
    with pytest.raises(BackupError, match="t: 1 rows instead of 2"):
        swap(tmp_path / "copy.sqlite3", tmp_path / "shop.sqlite3", {"t": 2}, aside="")


def test_the_command_names_the_file_by_its_moment_and_overwrites_none(shop, tmp_path, capsys):
    call_command("backup", str(tmp_path))
    (written,) = tmp_path.glob("fabshop-*.tar")
    assert written.stat().st_mode & 0o077 == 0
    assert "opened and counted" in capsys.readouterr().out
    assert about_archive(written).rows["spools_spool"] == 1
    assert list(tmp_path.glob(".backup-*")) == []
    before = written.read_bytes()
    with pytest.raises(CommandError, match="is there already"):
        call_command("backup", str(written))
    assert written.read_bytes() == before


def test_without_its_database_s_own_tools_a_backup_says_what_to_install(shop, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    if connection.vendor == "postgresql":
        with pytest.raises(CommandError, match="pg_dump is not installed here"):
            call_command("backup", str(tmp_path / "all.tar"))
    else:
        call_command("backup", str(tmp_path / "all.tar"))
        assert (tmp_path / "all.tar").exists()


@pytest.mark.parametrize("content", [b"", b"no tar at all", b"\0" * 10240])
def test_a_file_that_is_no_backup_is_refused_in_words(tmp_path, content):
    (tmp_path / "x.tar").write_bytes(content)
    with pytest.raises(CommandError, match=r"x\.tar is not a backup"):
        call_command("restore", str(tmp_path / "x.tar"))


def a_backup(tmp_path: Path, **changes: Any) -> tuple[Path, About]:
    """A backup's file with a few bytes for a database, which says of itself what the test wants."""
    database = tmp_path / "bytes"
    database.write_bytes(b"rows" * 100)
    values = {"made_at": "", "vendor": connection.vendor, "migrations": (), "rows": {}, "sha256": sha256_of(database)}
    about = About(**values | changes)
    write_archive(tmp_path / "all.tar", about, database, {})
    return tmp_path / "all.tar", about


def test_a_damaged_database_is_refused(tmp_path):
    path, about = a_backup(tmp_path)
    path.write_bytes(path.read_bytes().replace(b"rowsrows", b"rowsrOws"))
    with pytest.raises(BackupError, match="damaged"):
        unpack_archive(path, tmp_path / "into", about)


@pytest.mark.parametrize("name", ["media/../../../landed", "/landed"])
def test_a_file_that_would_land_elsewhere_is_refused(tmp_path, name):
    path, about = a_backup(tmp_path)
    with tarfile.open(path, "a") as archive:
        archive.addfile(tarfile.TarInfo(name))
    with pytest.raises(BackupError, match="which no backup does"):
        unpack_archive(path, tmp_path / "in" / "to", about)
    assert list(tmp_path.rglob("landed")) == []


def test_a_backup_of_another_kind_of_database_is_refused(tmp_path):
    path, _ = a_backup(tmp_path, vendor="another")
    with pytest.raises(BackupError, match=r"another kind of database \(another\)"):
        put_back(path, at=NOON)


def test_a_backup_of_a_newer_release_is_refused(tmp_path):
    path, _ = a_backup(tmp_path, migrations=("spools.0999_much_later",))
    with pytest.raises(BackupError, match=r"newer release \(spools.0999_much_later\)"):
        put_back(path, at=NOON)


def test_a_backup_that_cannot_say_what_it_is_is_refused():
    with pytest.raises(BackupError, match=r"about\.json can't be read"):
        read_about(b'{"made_at": 1}')
