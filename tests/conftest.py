"""What every test may ask for."""

from collections.abc import Callable
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
