"""An elbow is trimmed at the saw: it comes from no bar, so only its step is recorded."""

from datetime import datetime

from cutlists.actions.receive_bars import heat_of
from spools.actions.record_step import Tap, record_step
from spools.errors import not_found
from spools.models import Person, Piece
from spools.recorded import Recorded
from spools.transactions import all_or_nothing


@all_or_nothing
def trim_elbow(*, piece_id: int, person: Person, key: str, at: datetime, heat: str = "") -> Recorded:
    """Record one elbow as cut. Raises ``ShopError``: not_found, invalid, and what ``record_step`` refuses."""
    piece = Piece.objects.filter(id=piece_id, spool__shop_id=person.the_shop_id, sawn=False).first()
    if piece is None:
        raise not_found("elbow of that mark")
    melt = heat_of(heat, piece.material, person)
    tap = Tap(targets=(piece.mark,), heats={piece.mark: melt.id} if melt else {})
    return record_step(spool_id=piece.spool_id, step="cut", person=person, key=key, at=at, tap=tap)
