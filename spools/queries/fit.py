"""Before the saw runs: how likely a spool meets its joint, what to measure again, and what the checks can't see."""

from dataclasses import dataclass

from django.core.cache import cache

from geometry.allowances import joint_allowance
from geometry.blunders import SmallestSeen, smallest_seen
from geometry.checks import CheckInput
from geometry.fit import FitInput, FitReport, fit_report
from geometry.instruments import CLOSING, PRACTICE, PROTRACTOR, TAPE
from geometry.tables import UnknownPipe
from spools.models import Spool
from spools.stored_readings import check_input_of
from spools.stored_solutions import Solution, read_solution
from spools.transactions import fingerprint

WORKED_BY = 1  # counts up when the rules behind the figures change
KEPT_S = 7 * 24 * 3600
COUPLINGS = ("rigid", "flexible")
NUMBERS = {"A": "leg A", "B": "leg B", "included": "the included angle", "C": "C", "D": "D", "E": "E"}
AGAIN = {
    "A": "measure leg A a second time and take the mean",
    "B": "measure leg B a second time and take the mean",
    "included": "read the included angle a second time and take the mean",
    "C": "measure C, end to end from the hook",
}


@dataclass(frozen=True, slots=True)
class FitChance:
    """One kind of joint at end B, and how many of a hundred spools like this one meet it."""

    joint: str
    in_hundred: int
    again: str
    in_hundred_after: int


@dataclass(frozen=True, slots=True)
class Unseen:
    """The smallest error in one number that the checks taken would find; None where they never do."""

    number: str
    size_mm: float | None
    size_deg: float | None

    @property
    def never(self) -> bool:
        """Whether no error of this number is found, whatever its size."""
        return self.size_mm is None and self.size_deg is None


@dataclass(frozen=True, slots=True)
class FitPage:
    """What the page of a spool says of its fit; ``tape_mm`` and the others are what the figures take for granted."""

    chances: tuple[FitChance, ...]
    unseen: tuple[Unseen, ...]
    tape_mm: float = TAPE.value
    protractor_deg: float = PROTRACTOR.value
    closing_mm: float = CLOSING.value
    source: str = PRACTICE


def fit_of(spool: Spool) -> FitPage | None:
    """Return how a spool is likely to fit, worked once and kept; None where nothing turns or no figure exists.

    A build's reading and solution never change, so what is worked for it holds for good.
    """
    key = "fit-" + fingerprint(spool.id, spool.reading_id, spool.inputs_hash, WORKED_BY)
    found: FitPage | None = cache.get(key)
    if found is None and not spool.reading.line:  # a survey's doubts are those of its shots, not of tape and protractor
        found = _fit_of(check_input_of(spool.reading), read_solution(spool.solution))
        if found is not None:
            cache.set(key, found, KEPT_S)
    return found


def _fit_of(measured: CheckInput, solution: Solution) -> FitPage | None:
    if not solution.answer.joints and solution.answer.turn_deg < 1e-9:
        return None
    try:
        chances = tuple(_chance(joint, report) for joint, report in _reports(measured, solution))
    except UnknownPipe:
        return None
    return FitPage(chances=chances, unseen=tuple(_unseen(one) for one in smallest_seen(measured)))


def _reports(measured: CheckInput, solution: Solution) -> list[tuple[str, FitReport]]:
    """Return one report for each joint that end B may get: a groove whose coupling isn't named may get either."""
    end, pipe = solution.request.end_b, solution.request.pipe
    couplings = (end.coupling,) if end.coupling or end.prep != "grooved" else COUPLINGS
    found = []
    for coupling in couplings:
        allowance = joint_allowance(pipe, prep=end.prep, coupling=coupling, field_trim_mm=end.field_trim_mm)
        asked = FitInput(measured=measured, take_off_mm=solution.answer.take_off_mm, allowance=allowance)
        found.append((allowance.joint, fit_report(asked)))
    return found


def _chance(joint: str, report: FitReport) -> FitChance:
    repeat = report.best_repeat
    return FitChance(
        joint=joint,
        in_hundred=_in_hundred(report.probability),
        again=AGAIN[repeat.number] if repeat else "",
        in_hundred_after=_in_hundred(repeat.probability) if repeat else 0,
    )


def _in_hundred(probability: float) -> int:
    """Return a whole number of a hundred; 100 is never promised and 0 never threatened."""
    return min(max(round(100.0 * probability), 1), 99)


def _unseen(seen: SmallestSeen) -> Unseen:
    in_mm = seen.unit == "mm"
    return Unseen(NUMBERS[seen.number], seen.size if in_mm else None, None if in_mm else seen.size)
