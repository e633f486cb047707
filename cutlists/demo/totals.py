"""The month's totals, counted from what is stored: tie-ins by where they stand, and the promise."""

from collections import Counter
from dataclasses import dataclass
from datetime import datetime

from cutlists.demo.scenario import Counts
from spools.models import Person, Spool, TieIn
from spools.queries.promise import Promise, promise_of

PLACE_OF = {
    "": "delivered",
    "delivered": "back_in_yard",
    "back": "at_galvanizer",
    "at_coating": "ready_for_coating",
    "accepted": "waiting_visual",
    "welded": "to_weld",
    "beveled": "to_prepare",
    "grooved": "to_prepare",
    "cut": "to_cut",
}


@dataclass(frozen=True, slots=True)
class Totals:
    """How many tie-ins stand where, and how the promise was kept."""

    tie_ins: int
    not_measured: int
    counts: Counts
    promise: Promise


def totals_of(person: Person, *, at: datetime) -> Totals:
    """Count the job of a person's shop as it stands; the promise as of a moment."""
    tie_ins = TieIn.objects.for_person(person)
    live = Spool.objects.for_person(person).live().values_list("next_step", "hold_count")
    places = Counter("held" if holds else PLACE_OF[step] for step, holds in live)
    return Totals(
        tie_ins=tie_ins.count(),
        not_measured=tie_ins.to_measure().count(),
        counts=Counts(**{name: places[name] for name in Counts.__dataclass_fields__}),
        promise=promise_of(person, at=at),
    )
