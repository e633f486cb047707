"""The SQL that makes the database itself refuse to change or delete what happened and what was measured."""

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from django.apps import AppConfig, apps
from django.db import connections

if TYPE_CHECKING:
    from collections.abc import Iterator

    from django.db.backends.base.base import BaseDatabaseWrapper

MESSAGE = "rows here are never changed or deleted; add a new one"


def guarded_tables(app_label: str) -> tuple[str, ...]:
    """Return the tables of an app whose rows are written once: models that say ``append_only``."""
    return tuple(
        model._meta.db_table
        for model in apps.get_app_config(app_label).get_models()
        if getattr(model, "append_only", False)
    )


def guard_tables(sender: AppConfig, using: str = "default", **_: Any) -> None:
    """Put the guards of one app's tables in place (a post_migrate receiver; safe to repeat)."""
    connection = connections[using]
    for table in guarded_tables(sender.label):
        for statement in _statements(connection, table):
            _run(connection, statement)


def unguard_tables(app_label: str, using: str = "default") -> None:
    """Take the guards off: only for tests that must empty tables between them."""
    connection = connections[using]
    for table in guarded_tables(app_label):
        for statement in _removals(connection, table):
            _run(connection, statement)


@contextmanager
def tables_unguarded(*app_labels: str, using: str = "default") -> "Iterator[None]":
    """Take the guards off for a block and put them back."""
    for label in app_labels:
        unguard_tables(label, using)
    try:
        yield
    finally:
        for label in app_labels:
            guard_tables(apps.get_app_config(label), using)


def _run(connection: "BaseDatabaseWrapper", statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)


def _statements(connection: "BaseDatabaseWrapper", table: str) -> list[str]:
    if connection.vendor == "sqlite":
        return [_sqlite_guard(table, verb) for verb in ("update", "delete")]
    return [
        _POSTGRES_REFUSAL,
        _POSTGRES_REFUSAL_TO_EMPTY,
        *_removals(connection, table),
        _postgres_guard(table, name="change", events="UPDATE OR DELETE", each="ROW", refuse="refuse_change"),
        _postgres_guard(table, name="truncate", events="TRUNCATE", each="STATEMENT", refuse="refuse_emptying"),
    ]


# Emptying an empty table changes nothing, and is what a test runner does between tests.
_POSTGRES_REFUSAL_TO_EMPTY = f"""
CREATE OR REPLACE FUNCTION refuse_emptying() RETURNS trigger LANGUAGE plpgsql AS
$$ DECLARE filled boolean; BEGIN
    EXECUTE format('SELECT EXISTS (SELECT 1 FROM %I.%I)', TG_TABLE_SCHEMA, TG_TABLE_NAME) INTO filled;
    IF filled THEN RAISE EXCEPTION '{MESSAGE}' USING ERRCODE = 'restrict_violation'; END IF;
    RETURN NULL;
END $$
"""  # noqa: S608  our own words and PostgreSQL's own names
_POSTGRES_REFUSAL = f"""
CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION '{MESSAGE}' USING ERRCODE = 'restrict_violation'; END $$
"""


def _sqlite_guard(table: str, verb: str) -> str:
    return f"""
        CREATE TRIGGER IF NOT EXISTS "{table}_no_{verb}" BEFORE {verb.upper()} ON "{table}"
        BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END
    """


def _postgres_guard(table: str, *, name: str, events: str, each: str, refuse: str) -> str:
    return f"""
        CREATE TRIGGER "{table}_no_{name}" BEFORE {events} ON "{table}"
        FOR EACH {each} EXECUTE FUNCTION {refuse}()
    """


def _removals(connection: "BaseDatabaseWrapper", table: str) -> list[str]:
    if connection.vendor == "sqlite":
        return [f'DROP TRIGGER IF EXISTS "{table}_no_{verb}"' for verb in ("update", "delete")]
    return [f'DROP TRIGGER IF EXISTS "{table}_no_{what}" ON "{table}"' for what in ("change", "truncate")]
