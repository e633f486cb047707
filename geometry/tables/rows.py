"""Read a table of the trade from its CSV file beside this module."""

import csv
from pathlib import Path

_FOLDER = Path(__file__).parent


def read_rows(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of the table `name` as they stand in its file."""
    with (_FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def inches_to_mm(written: str) -> float:
    """Return mm for inches as written in a table."""
    return float(written) * 25.4


def number_or_none(written: str) -> float | None:
    """Return the number in a cell, or None for an empty one."""
    return float(written) if written else None
