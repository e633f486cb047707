"""What every test may ask for."""

from collections.abc import Callable, Iterator
from datetime import datetime

import pytest


@pytest.fixture(autouse=True)
def _own_folders(settings, tmp_path) -> None:
    """Papers and uploads of a test go to its own folder."""
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.PAPERS_DIR = tmp_path / "papers"


@pytest.fixture
def it_is(monkeypatch) -> Callable[[datetime], None]:
    """Set the clock that pages and sessions read: what they show of late doesn't hang on the day of the test."""

    def set_clock(at: datetime) -> None:
        monkeypatch.setattr("django.utils.timezone.now", lambda: at)

    return set_clock


@pytest.fixture
def unguarded_after(transactional_db):
    """Let a transactional test's tables be emptied at its end: the guards come off only then, and come back."""
    from spools.triggers import tables_unguarded

    yield
    with tables_unguarded("spools", "cutlists"):
        from django.core.management import call_command

        call_command("flush", verbosity=0, interactive=False)


@pytest.fixture(scope="session", autouse=True)
def _only_filled_tables_are_emptied() -> Iterator[None]:
    """Between transactional tests PostgreSQL deletes what is there: to truncate 60 empty tables takes half a second."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("django.db.backends.postgresql.operations.DatabaseOperations.sql_flush", _empty_what_is_filled)
        yield


def _empty_what_is_filled(operations, _style, tables, **_) -> list[str]:
    """Return what ``sql_flush`` would without restarted numbers; foreign keys are looked at when all is done."""
    names = [operations.quote_name(table) for table in tables]
    questions = (f"SELECT {place} WHERE EXISTS (SELECT 1 FROM {name})" for place, name in enumerate(names))  # noqa: S608
    with operations.connection.cursor() as cursor:
        cursor.execute(" UNION ALL ".join(questions))
        return [f"DELETE FROM {names[place]}" for (place,) in cursor.fetchall()]  # noqa: S608  Django's own table names
