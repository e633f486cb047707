"""The database itself refuses to change or delete what happened and what was measured."""

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from cutlists.models import StockEvent
from spools.models import Event, Reading
from spools.triggers import guarded_tables
from tests.factories.spools import make_spool
from tests.factories.stock import make_bars

pytestmark = pytest.mark.django_db


def refused(statement: str) -> bool:
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            connection.check_constraints()  # PostgreSQL empties no table with checks still waiting
            cursor.execute(statement)
    except DatabaseError as refusal:
        return "never changed" in str(refusal)
    return False


def test_every_append_only_table_is_guarded():
    assert {"spools_event", "spools_photo", "spools_reading"} <= set(guarded_tables("spools"))
    assert "cutlists_stockevent" in guarded_tables("cutlists")


@pytest.mark.parametrize(("model", "column"), [(Event, "reason"), (Reading, "note"), (StockEvent, "reason")])
def test_a_written_row_can_be_neither_changed_nor_deleted(model, column):
    spool = make_spool()
    make_bars(spool.shop)
    table = model._meta.db_table
    assert model.objects.exists()
    assert refused(f"UPDATE {table} SET {column} = 'x'")  # noqa: S608  our own table names
    assert refused(f"DELETE FROM {table}")  # noqa: S608  as above


def test_the_guards_are_there_after_a_full_migrate():
    make_spool()
    call_command("migrate", verbosity=0)
    assert refused("UPDATE spools_event SET reason = 'x'")


def test_emptying_the_table_at_once_is_refused():
    make_spool()
    emptying = "DELETE FROM spools_event" if connection.vendor == "sqlite" else "TRUNCATE spools_event CASCADE"
    assert refused(emptying)
