"""A shop does not start on settings that could lose what was acknowledged."""

import os
import subprocess
import sys

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import connection

from fabshop.checks import (
    database_keeps_what_it_acknowledges,
    postgresql_faults,
    refuse_unsafe_settings,
    sqlite_faults,
    sqlite_is_set_up_safely,
    time_is_stored_in_utc,
)

SAFE_SERVER = {"synchronous_commit": "on", "fsync": "on", "full_page_writes": "on"}


def ids(faults) -> list[str]:
    return [fault.id for fault in faults]


def test_our_own_settings_are_safe():
    refuse_unsafe_settings(ask_database=False)


@pytest.mark.django_db
def test_the_database_of_these_tests_answers_that_it_is_safe():
    assert database_keeps_what_it_acknowledges(None, databases=["default"]) == []


@pytest.mark.parametrize("change", [{"TIME_ZONE": "America/Chicago"}, {"USE_TZ": False}])
def test_times_that_are_not_stored_in_utc_are_refused(settings, change):
    for name, value in change.items():
        setattr(settings, name, value)
    assert ids(time_is_stored_in_utc(None)) == ["fabshop.E001"]
    with pytest.raises(ImproperlyConfigured, match="the zone people read is a field of the shop"):
        refuse_unsafe_settings(ask_database=False)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"journal": "delete"}, ["fabshop.E002"]),
        ({"synchronous": 1}, ["fabshop.E003"]),
        ({"synchronous": 0}, ["fabshop.E003"]),
        ({"synchronous": 3}, []),
        ({"transactions": "DEFERRED"}, ["fabshop.E004"]),
        ({}, []),
    ],
)
def test_sqlite_must_be_wal_full_and_immediate(change, expected):
    assert (
        ids(sqlite_faults(**({"journal": "wal", "synchronous": 2, "transactions": "IMMEDIATE"} | change))) == expected
    )


def test_sqlite_without_options_is_refused(settings, monkeypatch):
    monkeypatch.setitem(settings.DATABASES, "default", {"ENGINE": "django.db.backends.sqlite3", "NAME": "x"})
    assert ids(sqlite_is_set_up_safely(None)) == ["fabshop.E002", "fabshop.E003", "fabshop.E004"]


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"synchronous_commit": "off"}, ["fabshop.E005"]),
        ({"synchronous_commit": "remote_apply"}, []),
        ({"fsync": "off"}, ["fabshop.E006"]),
        ({"full_page_writes": "off"}, ["fabshop.E007"]),
        ({}, []),
    ],
)
def test_postgresql_must_write_before_it_acknowledges(change, expected):
    assert ids(postgresql_faults(SAFE_SERVER | change)) == expected


@pytest.mark.django_db
def test_the_database_is_asked_and_not_only_the_settings(tmp_path):
    """What really is in force counts: a session that gave up its safety is found."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SET LOCAL synchronous_commit = off")
        assert ids(database_keeps_what_it_acknowledges(None, databases=["default"])) == ["fabshop.E005"]
    else:
        pragmas = "PRAGMA journal_mode=DELETE; PRAGMA synchronous=OFF;"
        program = f"settings.DATABASES['default']['OPTIONS']['init_command'] = {pragmas!r}; print(ask())"
        assert run(program, FABSHOP_VAR=str(tmp_path)).strip() == "['fabshop.E002', 'fabshop.E003']"


def test_a_database_that_is_away_is_said_but_not_blamed_on_the_settings():
    nobody_listens = "postgres://nobody@127.0.0.1:1/none"
    assert run("refuse(ask_database=True); print(ask())", DATABASE_URL=nobody_listens).strip() == "['fabshop.W001']"


PREPARE = """
import django
from django.conf import settings
django.setup()
from fabshop.checks import database_keeps_what_it_acknowledges, refuse_unsafe_settings as refuse
ask = lambda: [fault.id for fault in database_keeps_what_it_acknowledges(None, databases=['default'])]
"""


def run(program: str, **environment: str) -> str:
    """Run a program of its own with these settings and return what it prints."""
    env = os.environ | {"DATABASE_URL": "", "DJANGO_SETTINGS_MODULE": "fabshop.settings"} | environment
    env = {name: value for name, value in env.items() if value}
    command = [sys.executable, "-c", PREPARE + program]
    return subprocess.run(command, env=env, capture_output=True, text=True, check=True).stdout
