"""Settings under which a reading or a step that was acknowledged could be lost: the shop does not start on them."""

from collections.abc import Sequence
from typing import Any

from django.apps import AppConfig
from django.conf import settings
from django.core import checks
from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError, connections
from django.db.backends.base.base import BaseDatabaseWrapper

FULL, EXTRA = 2, 3  # what SQLite answers to PRAGMA synchronous
MUST_BE_ON = ("fsync", "full_page_writes")  # of PostgreSQL


def register_all() -> None:
    """Have Django run these with ``check``, ``migrate`` and every server."""
    checks.register(time_is_stored_in_utc)
    checks.register(sqlite_is_set_up_safely)
    checks.register(database_keeps_what_it_acknowledges, checks.Tags.database)


def refuse_unsafe_settings(*, ask_database: bool) -> None:
    """Stop a server that starts without Django's commands. Raises ``ImproperlyConfigured`` with all that is wrong."""
    faults = [*time_is_stored_in_utc(None), *sqlite_is_set_up_safely(None)]
    if ask_database:
        faults += database_keeps_what_it_acknowledges(None, databases=["default"])
        connections["default"].close()
    serious = [fault for fault in faults if fault.level >= checks.ERROR]
    if serious:
        raise ImproperlyConfigured("\n".join(f"{fault.id}: {fault.msg} {fault.hint}" for fault in serious))


def time_is_stored_in_utc(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[checks.CheckMessage]:
    """Times are stored in UTC; each shop shows its own zone."""
    if settings.TIME_ZONE == "UTC" and settings.USE_TZ:
        return []
    hint = 'Set TIME_ZONE = "UTC" and USE_TZ = True; the zone people read is a field of the shop.'
    return [checks.Error("Times would not be stored in UTC.", hint=hint, id="fabshop.E001")]


def sqlite_is_set_up_safely(app_configs: Sequence[AppConfig] | None, **_: Any) -> list[checks.CheckMessage]:
    """SQLite must be asked for a write-ahead log, full sync and immediate transactions."""
    chosen = settings.DATABASES["default"]
    if not chosen["ENGINE"].endswith("sqlite3"):
        return []
    options = chosen.get("OPTIONS", {})
    asked = str(options.get("init_command", "")).lower().replace(" ", "")
    return sqlite_faults(
        journal="wal" if "journal_mode=wal" in asked else "not asked for",
        synchronous=FULL if "synchronous=full" in asked or "synchronous=extra" in asked else 0,
        transactions=str(options.get("transaction_mode", "DEFERRED")),
    )


def database_keeps_what_it_acknowledges(
    app_configs: Sequence[AppConfig] | None, databases: Sequence[str] | None = None, **_: Any
) -> list[checks.CheckMessage]:
    """Ask the database itself; one that is away now is not a fault of the settings."""
    faults: list[checks.CheckMessage] = []
    for alias in databases or ():
        try:
            faults += _ask(connections[alias])
        except DatabaseError as away:
            hint = "Readings and steps are refused in words until it is back."
            faults.append(checks.Warning(f"The database is away: {away}", hint=hint, id="fabshop.W001"))
    return faults


def _ask(connection: BaseDatabaseWrapper) -> list[checks.CheckMessage]:
    with connection.cursor() as cursor:

        def answer(question: str) -> Any:
            cursor.execute(question)
            return cursor.fetchone()[0]

        if connection.vendor == "sqlite":
            journal = str(answer("PRAGMA journal_mode"))
            if journal == "memory":
                return []  # a test's own database keeps nothing
            return sqlite_faults(
                journal=journal,
                synchronous=int(answer("PRAGMA synchronous")),
                transactions=str(getattr(connection, "transaction_mode", None) or "DEFERRED"),
            )
        return postgresql_faults(
            {name: str(answer(f"SHOW {name}")) for name in ("synchronous_commit", *MUST_BE_ON)}  # our own names
        )


def sqlite_faults(*, journal: str, synchronous: int, transactions: str) -> list[checks.CheckMessage]:
    """Return what is unsafe about a SQLite database."""
    faults: list[checks.CheckMessage] = []
    if journal.lower() != "wal":
        hint = "PRAGMA journal_mode=WAL; it needs a disk of this computer, not a network share."
        faults.append(checks.Error(f"SQLite's journal is “{journal}”, not WAL.", hint=hint, id="fabshop.E002"))
    if synchronous not in {FULL, EXTRA}:
        hint = "PRAGMA synchronous=FULL: anything less can lose the last taps when the power fails."
        faults.append(checks.Error("SQLite is not fully synchronous.", hint=hint, id="fabshop.E003"))
    if transactions.upper() not in {"IMMEDIATE", "EXCLUSIVE"}:
        hint = '"transaction_mode": "IMMEDIATE" in OPTIONS: otherwise two taps at once fail with “locked”.'
        faults.append(checks.Error("SQLite's transactions are not immediate.", hint=hint, id="fabshop.E004"))
    return faults


def postgresql_faults(answers: dict[str, str]) -> list[checks.CheckMessage]:
    """Return what is unsafe about a PostgreSQL server, from its answers to ``SHOW``."""
    faults: list[checks.CheckMessage] = []
    if answers["synchronous_commit"] == "off":
        hint = "Set synchronous_commit = on for this server, database and role."
        words = "PostgreSQL acknowledges what is not on disk yet (synchronous_commit is off)."
        faults.append(checks.Error(words, hint=hint, id="fabshop.E005"))
    for number, name in enumerate(MUST_BE_ON, start=6):
        if answers[name] != "on":
            words = f"PostgreSQL can lose everything in a crash ({name} is {answers[name]})."
            faults.append(checks.Error(words, hint=f"Set {name} = on.", id=f"fabshop.E{number:03d}"))
    return faults
