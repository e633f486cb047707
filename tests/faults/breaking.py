"""Break a deed off at each of its statements in turn."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.core import serializers
from django.db import connection


class BrokenOff(Exception):
    """The power went at this statement."""


@dataclass
class BreakAt:
    """A wrapper that lets statements through up to the n-th and breaks there."""

    number: int
    seen: int = 0

    def __call__(self, execute: Callable, sql: str, *rest: Any) -> Any:
        self.seen += 1
        if self.seen == self.number:
            raise BrokenOff(sql)
        return execute(sql, *rest)


def everything() -> str:
    """All rows of our own tables, as text."""
    models = [m for label in ("spools", "cutlists") for m in apps.get_app_config(label).get_models()]
    return serializers.serialize("json", [row for model in models for row in model.objects.order_by("pk")])


def break_everywhere(prepare: Callable[[], Callable[[str], Any]]) -> None:
    """Broken off anywhere it leaves nothing behind; then it works, and its key works once."""
    deed = prepare()
    before = everything()
    number = 0
    while True:
        number += 1
        breaker = BreakAt(number)
        try:
            with connection.execute_wrapper(breaker):
                deed("the-callers-own-key")
        except BrokenOff:
            assert everything() == before
        else:
            break
    assert number > 2
    after = everything()
    assert after != before
    deed("the-callers-own-key")
    assert everything() == after
