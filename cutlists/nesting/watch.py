"""The clock on the wall: how much of the time asked for is left, and whether someone cancelled."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic


class Stopped(Exception):
    """Time is up or someone cancelled; the best plan so far is what there is."""


class Watch:
    """Asked by every loop; the only place that looks at the time."""

    def __init__(self, seconds: float, cancelled: Callable[[], bool] | None = None) -> None:
        self.started = monotonic()
        self.ends = self.started + seconds
        self._cancelled = cancelled

    @property
    def spent(self) -> float:
        """Seconds since the start."""
        return monotonic() - self.started

    @property
    def left(self) -> float:
        """Seconds left, never below 0."""
        return max(0.0, self.ends - monotonic())

    def part(self, share: float, most: float) -> Watch:
        """A watch for one part of the work: a share of the time left, `most` seconds at most."""
        return Watch(min(self.left * share, most), self._cancelled)

    def over(self) -> bool:
        """Whether it is time to stop."""
        return monotonic() >= self.ends or (self._cancelled is not None and self._cancelled())

    def check(self) -> None:
        """Raise Stopped when it is time to stop."""
        if self.over():
            raise Stopped
