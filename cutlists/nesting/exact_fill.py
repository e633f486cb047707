"""Fill one bar after the other to its very end: subset sums kept as the bits of one whole number.

Bit f of sums[i] says that the widths from number i on can fill exactly f. Python's whole numbers shift and join such
sets at the speed of memory, and are exact. Filling a bar as far as it goes and preferring long pieces is the minimum
bin slack idea of Gupta and Ho (1999), here solved exactly for each bar.
"""

from __future__ import annotations

from collections.abc import Sequence


class ExactFill:
    """The pieces still to be cut, and the fullest pattern that they allow for a bar."""

    def __init__(self, widths: Sequence[int], counts: Sequence[int], limit: int) -> None:
        self.widths = [width for width, count in zip(widths, counts, strict=True) if count]
        self.names = [name for name, count in enumerate(counts) if count]
        self.counts = [count for count in counts if count]
        self.limit = limit
        self.sums = [1] * (len(self.widths) + 1)
        self._refresh(len(self.widths) - 1)

    @property
    def done(self) -> bool:
        """Whether nothing is left to cut."""
        return not self.widths

    def fill(self, capacity: int) -> tuple[tuple[int, int], ...]:
        """The pattern for a bar of this capacity: with the longest piece that fits if that leaves no more than without.

        >>> ExactFill([50, 30, 20, 7], [1, 2, 2, 3], 100).fill(99)
        ((0, 1), (2, 2), (3, 1))
        """
        first = next((i for i, width in enumerate(self.widths) if width <= capacity), None)
        if first is None:
            return ()
        most = self._most(self.sums[first], capacity)
        return self._with_first(first, capacity, most) or self._walk(first, most)

    def take(self, pattern: Sequence[tuple[int, int]], times: int = 1) -> None:
        """Take the pieces of a pattern away."""
        lowest = -1
        places = {name: i for i, name in enumerate(self.names)}
        for name, count in pattern:
            self.counts[places[name]] -= count * times
            lowest = max(lowest, places[name])
        if not all(self.counts):
            lowest -= sum(1 for i in range(lowest + 1) if not self.counts[i])
            keep = [i for i, count in enumerate(self.counts) if count]
            self.sums = [self.sums[i] for i in keep] + [1]
            self.widths = [self.widths[i] for i in keep]
            self.names = [self.names[i] for i in keep]
            self.counts = [self.counts[i] for i in keep]
        self._refresh(lowest)

    def most_times(self, pattern: Sequence[tuple[int, int]]) -> int:
        """How often the pieces left allow a pattern."""
        left = dict(zip(self.names, self.counts, strict=True))
        return min(left[name] // count for name, count in pattern)

    def _with_first(self, first: int, capacity: int, target: int) -> tuple[tuple[int, int], ...]:
        """The pattern that fills `target` with as many of the longest width as can be, or none without it."""
        width, after = self.widths[first], self.sums[first + 1]
        for count in range(min(self.counts[first], capacity // width), 0, -1):
            if target >= count * width and after >> (target - count * width) & 1:
                return ((self.names[first], count), *self._walk(first + 1, target - count * width))
        return ()

    def _walk(self, start: int, target: int) -> tuple[tuple[int, int], ...]:
        """The pattern that fills exactly `target`, with as many of the longest as that allows."""
        pattern = []
        for i in range(start, len(self.widths)):
            if not target:
                break
            width, after = self.widths[i], self.sums[i + 1]
            for count in range(min(self.counts[i], target // width), -1, -1):
                if after >> (target - count * width) & 1:
                    if count:
                        pattern.append((self.names[i], count))
                        target -= count * width
                    break
        return tuple(pattern)

    def _refresh(self, lowest: int) -> None:
        """Bring the sums up to date after changes up to width number `lowest`."""
        mask = (1 << (self.limit + 1)) - 1
        for i in range(min(lowest, len(self.widths) - 1), -1, -1):
            width, sums = self.widths[i], self.sums[i + 1]
            left, part = min(self.counts[i], self.limit // width), 1
            while left > 0:
                part = min(part, left)
                sums |= sums << (part * width)
                left -= part
                part *= 2
            self.sums[i] = sums & mask

    @staticmethod
    def _most(sums: int, capacity: int) -> int:
        """The greatest sum up to the capacity."""
        return (sums & ((1 << (capacity + 1)) - 1)).bit_length() - 1
