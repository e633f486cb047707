"""How a tie-in can be made: every make-up of its turn, best first with reasons, and why the others can't be."""

import json
from dataclasses import dataclass, replace
from typing import Any

from geometry.bends import BendChoice
from geometry.proposals import propose
from geometry.spool import SpoolRequest
from spools.laid_out import read_laid_out, say_made, say_turns
from spools.models import TieIn
from spools.queries.pipe_specs import BENDS
from spools.say_lengths import in_units
from spools.stored_readings import judge_stored

SAID = ("radius", "welds", "bend_radius_mm", "source", "miters_allowed")
USUAL = BendChoice()


@dataclass(frozen=True, slots=True)
class WayToMake:
    """One make-up; ``options`` are what differs from the usual of its kind, for a form; ``now`` is what is built."""

    words: str
    kind: str
    options: dict[str, Any]
    reasons: tuple[str, ...]
    now: bool = False

    @property
    def code(self) -> str:
        """What names it in a form."""
        return json.dumps([self.kind, self.options], sort_keys=True)


@dataclass(frozen=True, slots=True)
class WaysToMake:
    """A tie-in with its ways; none before it is measured, or where the reading itself can't be used.

    ``laid_out`` says the two bends of a survey: they are chosen on its reading, together with their turns.
    """

    tie_in: TieIn
    can: tuple[WayToMake, ...]
    cannot: tuple[WayToMake, ...]
    laid_out: str = ""

    @property
    def now_words(self) -> str:
        """The make-up that is chosen, in a word."""
        return BENDS[self.tie_in.bend_kind]


def ways_to_make(tie_in: TieIn) -> WaysToMake:
    """Return every way, worked out from the newest reading (no query)."""
    reading = tie_in.current_reading
    if reading is None:
        return WaysToMake(tie_in, (), ())
    reading.tie_in = tie_in
    line = read_laid_out(reading.line)
    if line:
        return WaysToMake(tie_in, (), (), laid_out=f"{say_made(line)}; {say_turns(line)}")
    request = judge_stored(reading).request
    if not isinstance(request, SpoolRequest):
        return WaysToMake(tie_in, (), ())
    found, units = propose(request), tie_in.job.units
    can = (
        WayToMake(
            one.words, one.bend.kind, options_of(one.bend), _said(one.reasons, units), now=one.bend == request.bend
        )
        for one in found.ranked
    )
    cannot = (
        WayToMake(one.words, one.bend.kind, {}, _said([finding.text for finding in one.findings], units))
        for one in found.refused
        if one.bend.kind != "bent_pipe" or one.bend.bend_radius_mm  # without a radius it was not asked for
    )
    return WaysToMake(tie_in, tuple(can), tuple(cannot))


def options_of(bend: BendChoice) -> dict[str, Any]:
    """Return what a choice says beyond the usual of its kind, as it is stored with the tie-in.

    >>> options_of(BendChoice("miter", welds=3))
    {'welds': 3}
    """
    usual = replace(USUAL, kind=bend.kind)
    return {name: getattr(bend, name) for name in SAID if getattr(bend, name) != getattr(usual, name)}


def _said(texts: Any, units: str) -> tuple[str, ...]:
    return tuple(in_units(text, units).removesuffix(".") for text in texts)
