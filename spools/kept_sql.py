"""The statements of a scan, worded once: having the ORM word them anew for every tap was half of what a tap cost.

The words come from the models, so a new column is in them; values go the way the ORM sends them.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import Any

from django.db import connection, models

from spools.models import Event, Spool

EVENT_FIELDS: tuple[models.Field[Any, Any], ...] = tuple(f for f in Event._meta.concrete_fields if not f.primary_key)


def locked_spool(*, spool_id: int, shop_id: int, key: str) -> Spool | None:
    """Lock a spool of a shop and return it, with two facts from before any wait for the lock.

    ``answered_by`` is the event that has the key, ``newest`` the number of the spool's newest event. The stored
    solution is left where it is: no step needs it.
    """
    found = Spool.objects.raw(_lock_words(connection.vendor), [key, spool_id, shop_id])
    return next(iter(found), None)


def write(event: Event, spool: Spool, columns: Sequence[str]) -> None:
    """Insert an event and update these columns of its spool; on PostgreSQL in one statement."""
    new = [_sent(field, event) for field in EVENT_FIELDS]
    moved = [*(_sent(_column(name), spool) for name in columns), spool.id]
    insert, update = _insert_words(), _update_words(tuple(columns))
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(f"WITH moved AS ({update}) {insert}", [*moved, *new])
        else:
            cursor.execute(update, moved)
            cursor.execute(insert, new)
        (event.pk,) = cursor.fetchone()
    event._state.adding, event._state.db = False, connection.alias


def _sent(field: models.Field[Any, Any], row: models.Model) -> Any:
    return field.get_db_prep_save(getattr(row, field.attname), connection)


@functools.cache
def _column(name: str) -> models.Field[Any, Any]:
    return next(field for field in Spool._meta.concrete_fields if name in {field.name, field.attname})


@functools.cache
def _lock_words(vendor: str) -> str:
    columns = ", ".join(f's."{f.column}"' for f in Spool._meta.concrete_fields if f.name != "solution")
    spools, events = Spool._meta.db_table, Event._meta.db_table
    lock = " FOR UPDATE OF s" if vendor == "postgresql" else ""
    return (
        f"SELECT {columns}, (SELECT e.id FROM {events} e WHERE e.key = %s) AS answered_by, "  # noqa: S608  names of our own models
        f"(SELECT max(e.number) FROM {events} e WHERE e.spool_id = s.id) AS newest "
        f"FROM {spools} s WHERE s.id = %s AND s.shop_id = %s{lock}"
    )


@functools.cache
def _insert_words() -> str:
    columns = ", ".join(f'"{field.column}"' for field in EVENT_FIELDS)
    values = ", ".join(["%s"] * len(EVENT_FIELDS))
    return f"INSERT INTO {Event._meta.db_table} ({columns}) VALUES ({values}) RETURNING id"  # noqa: S608  names of our own models


@functools.cache
def _update_words(columns: tuple[str, ...]) -> str:
    moved = ", ".join(f'"{_column(name).column}" = %s' for name in columns)
    return f"UPDATE {Spool._meta.db_table} SET {moved} WHERE id = %s"  # noqa: S608  names of our own models
