"""Which step holds the shop up: named only when its load and its growing queue say the same."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StepLoad:
    """A step's work for the next two shifts: hours asked of it, hours its benches are able to give, and its queue."""

    step: str
    load_h: float
    able_h: float
    queue_before: int
    queue_now: int

    @property
    def ratio(self) -> float:
        """Hours asked over hours able; without end when there is work and nobody able to do it."""
        if self.able_h > 0:
            return self.load_h / self.able_h
        return float("inf") if self.load_h > 0 else 0.0

    @property
    def growth(self) -> int:
        """Spools by which the queue has grown."""
        return self.queue_now - self.queue_before


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """The step that holds the shop up, if two signs agree, and what to say."""

    step: str | None
    words: str
    by_load: str | None
    by_queue: str | None


def bottleneck(loads: Sequence[StepLoad]) -> Bottleneck:
    """Return the bottleneck.

    The first sign is the step with the highest load over able hours, if that is more than it can give; the second the
    step whose queue grew most. A tie is no sign. Only if both name one step is it called a bottleneck.
    """
    by_load = _single_top([(load.step, load.ratio) for load in loads], above=1.0)
    by_queue = _single_top([(load.step, float(load.growth)) for load in loads], above=0.0)
    if by_load is None or by_load != by_queue:
        return Bottleneck(None, "No single bottleneck.", by_load, by_queue)
    top = next(load for load in loads if load.step == by_load)
    able = f"{top.able_h:.0f} h able" if top.able_h else "nobody able"
    words = (
        f"{by_load}: {top.load_h:.0f} h of work in the next 2 shifts, {able}; "
        f"its queue went from {top.queue_before} to {top.queue_now}."
    )
    return Bottleneck(by_load, words, by_load, by_queue)


def _single_top(signs: list[tuple[str, float]], *, above: float) -> str | None:
    highest = max((value for _, value in signs), default=above)
    tops = [step for step, value in signs if value == highest]
    return tops[0] if highest > above and len(tops) == 1 else None
