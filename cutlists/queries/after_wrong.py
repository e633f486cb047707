"""What became of a piece that was cut wrong: where it lies now, whom it still serves, and where it is cut again."""

from cutlists.models import Cut, StockBar
from cutlists.saving import serves
from cutlists.stockroom import sub_key


def say_wrong(cut: Cut, key: str) -> str:
    """Return it as the cutter is told; ``key`` is the tap's own."""
    kept = StockBar.objects.filter(events__key=sub_key(sub_key(key, "w"), "drop")).first()
    if kept is None:
        parts = ["what was cut is scrap"]
    else:
        found = serves(kept, kept.length_u, not_for=cut.piece)
        use = f"it serves {found[0].piece}" if found else "it is worth keeping"
        parts = [f"what was cut is {kept}, paint that on: {use}"]
    again = Cut.objects.select_related("bar").filter(piece_id=cut.piece_id, state=Cut.State.PLANNED).first()
    parts.append(f"cut again, first on bar {again.bar}" if again else "no pipe is left for it, so it waits for a plan")
    return f"{cut.piece}: wrong cut; {'; '.join(parts)}."
