"""Elbows to trim at the saw: they come from no bar, but the same hands cut them."""

from dataclasses import dataclass

from spools.models import Person, Piece

MOST = 30


@dataclass(frozen=True, slots=True)
class ElbowLine:
    """One elbow to trim, and what to mark on it."""

    piece: Piece

    @property
    def units(self) -> str:
        """How lengths are written on its job."""
        return str(self.piece.spool.tie_in.job.units)

    @property
    def marks(self) -> list[tuple[str, float]]:
        """Throat, center and heel, in mm along the elbow."""
        return [(mark["name"], mark["value_mm"]) for mark in self.piece.marks if mark["unit"] == "mm"]


def elbows_to_trim(person: Person) -> list[ElbowLine]:
    """Return the elbows still to trim, rushes first, then by due time; what is on hold is left out."""
    pieces = (
        Piece.objects.filter(spool__shop_id=person.the_shop_id, spool__live=True, spool__hold_count=0)
        .filter(spool__next_step="cut", kind="elbow", is_cut=False)
        .select_related("spool__tie_in__job")
        .defer("spool__solution")
        .order_by("-spool__rush", "spool__due_at", "id")[: 2 * MOST]
    )
    return [ElbowLine(piece) for piece in pieces if piece.mark in piece.spool.the_route.sawn()][:MOST]
