"""What a request says of a spool on its way to the galvanizer: shut ends, pads, and work still to be done on zinc."""

from dataclasses import dataclass

from geometry.cautions import HOT_WORK
from geometry.ends import EndChoice
from geometry.request.fields import Fields
from geometry.vents import ClosedEnd, Pad


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedZinc:
    """Ends that are shut when the spool is dipped, plates welded onto it, and work after coating."""

    closed_ends: tuple[ClosedEnd, ...] = ()
    pads: tuple[Pad, ...] = ()
    work_after: tuple[str, ...] = ()


def asked_zinc(fields: Fields, *, ends: tuple[EndChoice, EndChoice]) -> AskedZinc:
    """Return what ``galvanized`` says; true alone is a spool open at both ends.

    ``closed`` names ends that are shut, ``{"a": {"by": "blind flange", "holes": 2, "hole": "1-9/16"}}``; ``pads`` is a
    list of plates with ``length``, ``width`` and their ``holes`` and ``hole``; ``work_after`` lists what is still to be
    cut, ground or welded. An end left long for field trim is work after coating without being named.

    Raises:
        RequestError: a field is of another type, or names work that throws no zinc.

    """
    asked = fields.part("galvanized")
    closed = asked.part("closed")
    trimmed = any(end.field_trim_mm > 0.0 for end in ends)
    named = _works(asked)
    return AskedZinc(
        closed_ends=tuple(_closed(closed.part(side), side) for side in ("a", "b") if closed.has(side)),
        pads=tuple(_pad(pad, number) for number, pad in enumerate(_pads(asked), start=1)),
        work_after=(*named, *(("field trim",) if trimmed and "field trim" not in named else ())),
    )


def _closed(asked: Fields, side: str) -> ClosedEnd:
    return ClosedEnd(
        name=f"end {side.upper()}",
        closed_by=asked.text("by", "closed"),
        holes=_count(asked),
        hole_mm=asked.length_or_none("hole") or 0.0,
    )


def _pads(asked: Fields) -> list[Fields]:
    return asked.parts("pads") if asked.has("pads") else []


def _pad(asked: Fields, number: int) -> Pad:
    return Pad(
        name=asked.text("name", f"pad {number}"),
        area_mm2=abs(asked.length_mm("length") * asked.length_mm("width")),
        holes=_count(asked),
        hole_mm=asked.length_or_none("hole") or 0.0,
    )


def _count(asked: Fields) -> int:
    holes = asked.whole("holes", 0)
    if not 0 <= holes <= 100:
        raise asked.wrong("holes", "must be how many holes are drilled, such as 2")
    return holes


def _works(asked: Fields) -> tuple[str, ...]:
    if not asked.has("work_after"):
        return ()
    works = asked.items("work_after")
    for work in works:
        if work not in HOT_WORK:
            raise asked.wrong("work_after", f"must be a list of some of {', '.join(HOT_WORK)}")
    return tuple(works)
