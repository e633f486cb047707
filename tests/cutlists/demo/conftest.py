"""The month, played once for all tests of a file."""

from collections.abc import Iterator

import pytest
from django.db import transaction

from cutlists.demo.diary import Diary
from cutlists.demo.play import play


@pytest.fixture(scope="module")
def diary(request, django_db_setup, django_db_blocker) -> Iterator[Diary]:
    """The diary of the month before the file's ``NOW``; everything is rolled back after its last test."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield play(request.module.NOW)
        transaction.set_rollback(True)
