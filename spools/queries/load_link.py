"""What the counter's page shows of one load, and nothing else: tags, weights, where each line stands."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from geometry.weights import KG_PER_LB
from spools.models import Load, LoadLine, Signature
from spools.queries.loads import lines_of

TWO_PEOPLE_KG = 50 * KG_PER_LB  # common practice, no source: above 50 lb two people lift
GROOVED = "grooved"
HERE = frozenset({"back", "delivered"})
NOTES: tuple[tuple[str, Callable[[LoadLine], bool]], ...] = (
    ("two people", lambda line: line.spool.black_kg > TWO_PEOPLE_KG),
    ("grooved: the seat stays smooth", lambda line: GROOVED in (line.spool.tie_in.end_a, line.spool.tie_in.end_b)),
)
STATE_WORDS = {
    "": "still out",
    "back": "here",
    "delivered": "here",
    "missing": "not here: missing",
    "spare": "spare, not to be used",
    "taken off": "off this load",
}


@dataclass(frozen=True, slots=True)
class CountLine:
    """One line as it is ticked."""

    line: LoadLine
    notes: tuple[str, ...]
    state: str
    words: str

    @property
    def is_open(self) -> bool:
        """Tell whether it can still be ticked."""
        return not self.line.settled and self.line.left_at is not None


@dataclass(frozen=True, slots=True)
class CountRack:
    """One rack in its order."""

    name: str
    lines: tuple[CountLine, ...]

    @property
    def to_tick(self) -> int:
        """How many are ticked by one tap of "all of this rack"."""
        return sum(one.is_open and one.state == "" for one in self.lines)


@dataclass(frozen=True, slots=True)
class Counting:
    """One load as it is counted."""

    load: Load
    racks: tuple[CountRack, ...]
    here: int
    of: int
    to_tick: int
    still_out: int
    black_kg: float
    heaviest: CountLine | None
    longest: CountLine | None
    flagged: tuple[CountLine, ...]
    two_people: int
    signatures: tuple[Signature, ...]
    phase: str
    all_notes: tuple[str, ...]

    @property
    def is_site(self) -> bool:
        """Tell whether it goes to site."""
        return self.load.kind == Load.Kind.SITE


def counting_of(load: Load) -> Counting:
    """Return a load's page: two queries. Only what has left is counted; a later trip waits in the shop."""
    lines = [_line(line) for line in lines_of(load)]
    gone = _noted([one for one in lines if one.line.left_at is not None or one.line.settled])
    signatures = tuple(load.signatures.all())
    return Counting(
        load=load,
        racks=_racks(gone),
        here=sum(one.line.settled in HERE for one in gone),
        of=len(gone),
        to_tick=sum(one.is_open and one.state == "" for one in gone),
        still_out=sum(not one.line.settled for one in gone),
        black_kg=sum(one.line.spool.black_kg for one in gone),
        heaviest=max(gone, key=lambda one: one.line.spool.black_kg, default=None),
        longest=max(gone, key=lambda one: one.line.spool.check_mm, default=None),
        flagged=tuple(one for one in gone if not one.line.spool.tag),
        two_people=sum(one.line.spool.black_kg > TWO_PEOPLE_KG for one in gone),
        signatures=signatures,
        phase=_phase(load, gone, signatures),
        all_notes=tuple(words for words, applies in NOTES if gone and all(applies(one.line) for one in gone)),
    )


def _noted(lines: Sequence[CountLine]) -> list[CountLine]:
    """Put each note beside the lines that it is about, unless it is about all: then it is said once, on top."""
    some = [(words, applies) for words, applies in NOTES if not all(applies(one.line) for one in lines)]
    return [replace(one, notes=tuple(words for words, applies in some if applies(one.line))) for one in lines]


def _phase(load: Load, lines: Sequence[CountLine], signatures: Sequence[Signature]) -> str:
    """Return what is most likely counted now: dropped off, back, or received on site."""
    if load.kind == Load.Kind.SITE:
        return "site"
    begun = any(one.line.settled for one in lines) or bool(signatures)
    return "back" if begun else "drop"


def _racks(lines: Sequence[CountLine]) -> tuple[CountRack, ...]:
    by_rack: dict[str, list[CountLine]] = {}
    for one in lines:
        by_rack.setdefault(one.line.rack, []).append(one)
    return tuple(CountRack(name, tuple(found)) for name, found in by_rack.items())


def _line(line: LoadLine) -> CountLine:
    state = line.settled
    damaged = bool(line.note) and line.settled == "back"
    if not state and line.note:
        state = "later"
    words = STATE_WORDS.get(line.settled, line.settled) if not damaged else "here, damaged"
    return CountLine(line, (), "damaged" if damaged else state, words if state != "later" else line.note)
