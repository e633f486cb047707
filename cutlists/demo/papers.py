"""The papers of the demo's next morning: tickets of what the open plans cut, and the turnaround report."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from django.conf import settings

from cutlists.models import CutPlan
from cutlists.papers.heading import Printing
from cutlists.papers.packets import write_tickets
from cutlists.papers.turnaround import write_report
from cutlists.sheets import paper
from spools.models import Person
from spools.queries.promise import Promise

PAPER = "letter"


@dataclass(frozen=True, slots=True)
class Printed:
    """A file that was printed."""

    name: str
    pages: int


@dataclass(frozen=True, slots=True)
class Folder:
    """Where the papers of a day lie, and what they are."""

    path: Path
    files: tuple[Printed, ...]


def print_papers(person: Person, promise: Promise, *, at: datetime) -> Folder:
    """Print the day's papers into a folder of their own."""
    printing = Printing(person, at)
    plans = CutPlan.objects.for_person(person).filter(state=CutPlan.State.OPEN)
    spool_ids = sorted(set(plans.values_list("cuts__piece__spool", flat=True)) - {None})
    path = Path(settings.PAPERS_DIR) / f"demo-{at.astimezone(person.the_shop.zone):%Y-%m-%d}"
    path.mkdir(parents=True, exist_ok=True)

    def tickets(out: BinaryIO) -> int:
        return write_tickets(out, spool_ids, printing, paper=PAPER, progress=lambda done: None)

    def report(out: BinaryIO) -> int:
        return write_report(out, promise, printing, paper=paper(PAPER))

    files = (_print(path, "tickets.pdf", tickets), _print(path, "turnaround.pdf", report))
    return Folder(path, files)


def _print(folder: Path, name: str, write: Callable[[BinaryIO], int]) -> Printed:
    with (folder / name).open("wb") as out:
        return Printed(name, write(out))
