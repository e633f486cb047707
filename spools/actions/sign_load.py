"""A name and a signature drawn with a finger under a load's count."""

from collections.abc import Sequence
from datetime import datetime
from math import isfinite
from typing import Any

from spools.actions.load_lines import Told, open_load
from spools.errors import invalid
from spools.models import Load, Person, Signature
from spools.transactions import all_or_nothing

BY_ACCOUNT = Told()
EDGE = 1000  # strokes are written in thousandths of the canvas
MOST_STROKES, MOST_POINTS = 80, 4000
PURPOSES = {
    Load.Kind.COATING: (Signature.For.HANDED_OVER, Signature.For.BACK),
    Load.Kind.SITE: (Signature.For.RECEIVED,),
}


@all_or_nothing
def sign_load(
    *,
    load_id: int,
    signed_for: str,
    name: str,
    strokes: Sequence[Any],
    person: Person,
    key: str,
    at: datetime,
    told: Told = BY_ACCOUNT,
    counted: int | None = None,
) -> Signature:
    """Keep a signature with the count as it stands; ``counted`` is how many were handed over.

    Raises ``ShopError``: not_your_role, not_found, invalid.
    """
    load = open_load(load_id, person)
    earlier = Signature.objects.filter(key=key, load=load).first()
    if earlier:
        return earlier
    trouble = {}
    if signed_for not in PURPOSES[Load.Kind(load.kind)]:
        trouble["signed_for"] = "Say what is signed for."
    if not name.strip():
        trouble["name"] = "Write the name in letters too."
    drawn = _read(strokes)
    if drawn is None:
        trouble["strokes"] = "Sign with a finger in the box, once more."
    if trouble:
        raise invalid(trouble, next(iter(trouble.values())))
    lines = load.lines.all()
    settled = [line for line in lines if line.settled in {"back", "delivered"}]
    count = len(settled)
    if signed_for == Signature.For.HANDED_OVER:
        count = len(lines) if counted is None else min(counted, len(lines))
    return Signature.objects.create(
        load=load,
        signed_for=signed_for,
        name=name.strip()[:60],
        count=count,
        of=len(lines),
        strokes=drawn,
        person=person,
        by_link=bool(told.by),
        signed_at=min(told.done_at or at, at),
        key=key,
    )


def _read(strokes: Sequence[Any]) -> list[list[list[int]]] | None:
    """Return clean strokes, or nothing for what isn't a drawing of at least one line."""
    if not isinstance(strokes, list) or len(strokes) > MOST_STROKES:
        return None
    clean: list[list[list[int]]] = []
    for stroke in strokes:
        if not isinstance(stroke, list):
            return None
        points = []
        for point in stroke:
            if not (isinstance(point, list) and len(point) == 2 and all(_is_number(value) for value in point)):
                return None
            points.append([round(min(max(v, 0), EDGE)) for v in point])
        if len(points) > 1:
            clean.append(points)
    total = sum(len(stroke) for stroke in clean)
    return clean if 1 < total <= MOST_POINTS else None


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and isfinite(value)
