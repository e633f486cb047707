"""Which steps one spool needs, on which of its pieces and ends; fixed when the spool is released."""

from dataclasses import dataclass
from typing import Any

SPOOL = ""  # the target of a step that happens to the spool as a whole


@dataclass(frozen=True, slots=True)
class RoutePiece:
    """One piece: its mark, whether the saw makes it, and what each end needs (``((1, "grooved"), (2, "beveled"))``)."""

    mark: str
    sawn: bool
    ends: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Route:
    """The work one spool needs: its pieces, its welds, and whether it goes to coating."""

    pieces: tuple[RoutePiece, ...]
    welds: int
    coating: bool

    def sawn(self) -> tuple[str, ...]:
        """Return the marks of the pieces that the saw makes."""
        return tuple(piece.mark for piece in self.pieces if piece.sawn)

    def ends_needing(self, operation: str) -> tuple[str, ...]:
        """Return the ends that need an operation, as ``A.1``."""
        return tuple(
            end_target(piece.mark, number)
            for piece in self.pieces
            for number, needed in piece.ends
            if needed == operation
        )

    def as_stored(self) -> dict[str, Any]:
        """Return the route as plain values for a JSON column."""
        return {
            "pieces": [[p.mark, p.sawn, [list(end) for end in p.ends]] for p in self.pieces],
            "welds": self.welds,
            "coating": self.coating,
        }


def stored_route(value: dict[str, Any]) -> Route:
    """Return the route that ``Route.as_stored`` wrote."""
    return Route(
        pieces=tuple(
            RoutePiece(mark, sawn, tuple((int(number), operation) for number, operation in ends))
            for mark, sawn, ends in value["pieces"]
        ),
        welds=value["welds"],
        coating=value["coating"],
    )


def end_target(mark: str, number: int) -> str:
    """Return the name of one end of one piece: ``A.1``."""
    return f"{mark}.{number}"


def piece_of(target: str) -> str:
    """Return the piece that a target belongs to: ``A`` for ``A`` and for ``A.1``; empty for the spool."""
    return target.split(".", 1)[0]
