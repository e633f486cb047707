"""A deed is one transaction: all of it or nothing, tried again when two people collide."""

import functools
import hashlib
import json
from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar

from django.db import IntegrityError, OperationalError, connection, transaction

from spools.errors import busy

P = ParamSpec("P")
R = TypeVar("R")

TRIES = 3
LONGEST_KEY = 64
# PostgreSQL's codes for a serialization failure, a deadlock and a unique key that somebody took first.
COLLISIONS = frozenset({"40001", "40P01", "23505"})


def all_or_nothing(deed: Callable[P, R]) -> Callable[P, R]:
    """Run a deed in one transaction of its own; inside an open one it is a savepoint, and the outer deed retries."""

    @functools.wraps(deed)
    def run(*args: P.args, **kwargs: P.kwargs) -> R:
        if connection.in_atomic_block:
            with transaction.atomic():
                return deed(*args, **kwargs)
        for _ in range(TRIES):
            try:
                with transaction.atomic():
                    return deed(*args, **kwargs)
            except (IntegrityError, OperationalError) as trouble:
                if not _collided(trouble):
                    raise
        raise busy()

    return run


def part_key(key: str, *parts: object) -> str:
    """Return the key of one part of a deed; where it would be too long to store, its digest."""
    text = ":".join((key, *map(str, parts)))
    return text if len(text) <= LONGEST_KEY else hashlib.sha256(text.encode()).hexdigest()


def fingerprint(*parts: Any) -> str:
    """Return what identifies the content of a request, so that a reused key is noticed."""
    return hashlib.sha256(json.dumps(parts, sort_keys=True, default=str).encode()).hexdigest()


def _collided(trouble: Exception) -> bool:
    code = getattr(trouble.__cause__, "sqlstate", None)
    if code is not None:
        return code in COLLISIONS
    return "UNIQUE constraint" in str(trouble) or "locked" in str(trouble)
