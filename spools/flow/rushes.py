"""How many spools may be a rush at once."""

from dataclasses import dataclass

LIMIT_SHARE = 0.10  # of the work in hand; beyond that none of them is one. Common practice, no source.


@dataclass(frozen=True, slots=True)
class OpenRushes:
    """How many spools are rushed, of how many in work.

    >>> OpenRushes(3, 24).limit, OpenRushes(3, 24).too_many, OpenRushes(1, 24).one_more_is_too_many
    (2, True, False)
    """

    rushed: int
    in_work: int

    @property
    def limit(self) -> int:
        """How many may be, at least one."""
        return max(1, int(self.in_work * LIMIT_SHARE))

    @property
    def too_many(self) -> bool:
        """Whether there are more than the limit."""
        return self.rushed > self.limit

    @property
    def one_more_is_too_many(self) -> bool:
        """Whether the next one goes over the limit."""
        return self.rushed + 1 > self.limit
