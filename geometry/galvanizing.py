"""What goes to the galvanizer: is it vented, does it fit the kettle, what does it weigh before and after."""

from dataclasses import dataclass

from geometry.cautions import ends_after_dipping, hot_work_on_zinc, kettle_size, may_move_in_the_bath
from geometry.findings import Finding
from geometry.tables import PipeRow
from geometry.tables.zinc import coating
from geometry.vents import Pad, Space, vent_findings
from geometry.weights import USUAL_OVER_MINIMUM, zinc_kg

FIELD_WELDED = ("beveled", "saddle")
"""Ends that wait for a weld in the field, so on zinc."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToZinc:
    """One spool on its way to the galvanizer.

    ``center_line_mm`` is the pipe and elbows along the center line, ``box_mm`` the three sides of the overall box,
    ``preps`` the codes of its end preparations, ``work_after`` what is still to be done to it after coating.
    """

    pipe: PipeRow
    center_line_mm: float
    black_kg: float
    box_mm: tuple[float, float, float]
    spaces: tuple[Space, ...]
    pads: tuple[Pad, ...] = ()
    preps: tuple[str, ...] = ()
    turns_deg: tuple[float, ...] = ()
    work_after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Dip:
    """What the load list says of one spool.

    Zinc is counted on pipe and elbows, inside and outside, not on flanges. ``zinc_kg`` is at the standard's minimum,
    ``usual_zinc_kg`` 40 percent over it. ``biggest_mm`` is the longest side of the box.
    """

    coating_um: float
    coating_source: str
    zinc_kg: float
    usual_zinc_kg: float
    black_kg: float
    dipped_kg: float
    biggest_mm: float
    findings: tuple[Finding, ...]

    @property
    def percent(self) -> float:
        """The minimum zinc in percent of the weight before."""
        return 100.0 * self.zinc_kg / self.black_kg


def open_spool(*, name: str, nps: str, id_mm: float) -> Space:
    """Return the one space of a spool that is open at both ends."""
    return Space(name=name, nps=nps, id_mm=id_mm, open_ends=2)


def work_after_coating(spool: ToZinc) -> tuple[str, ...]:
    """Return what is still to be done to a spool after coating: what was said, and the field's welds at its ends."""
    welded = any(prep in FIELD_WELDED for prep in spool.preps)
    return (*spool.work_after, *(("welded",) if welded and "welded" not in spool.work_after else ()))


def dip(spool: ToZinc) -> Dip:
    """Return zinc, weights, biggest dimension and findings of a spool; ``dipped_kg`` is with the usual coat.

    Raises ValueError for a length, weight or wall that isn't above zero.

    >>> from geometry.tables import pipe
    >>> six = pipe("6", "40")
    >>> answer = dip(ToZinc(pipe=six, center_line_mm=1000.0, black_kg=six.kg_per_m, box_mm=(1000.0, 168.3, 168.3),
    ...                     spaces=(open_spool(name="214", nps="6", id_mm=six.id_mm),)))
    >>> round(answer.percent, 1), answer.coating_um, [finding.code for finding in answer.findings]
    (1.9, 75.0, ['keep_ends_open'])
    """
    if not spool.black_kg > 0:
        raise ValueError("A spool must weigh something before it is dipped: check its pieces.")
    row = coating(thickness_mm=spool.pipe.wall_mm)
    least_kg = zinc_kg(spool.pipe, length_mm=spool.center_line_mm, coating_um=row.minimum_um)
    usual_kg = USUAL_OVER_MINIMUM * least_kg
    return Dip(
        coating_um=row.minimum_um,
        coating_source=row.source,
        zinc_kg=least_kg,
        usual_zinc_kg=usual_kg,
        black_kg=spool.black_kg,
        dipped_kg=spool.black_kg + usual_kg,
        biggest_mm=max(spool.box_mm),
        findings=_findings(spool),
    )


def _findings(spool: ToZinc) -> tuple[Finding, ...]:
    return (
        *vent_findings(spool.spaces, pads=spool.pads),
        *kettle_size(box_mm=spool.box_mm),
        *hot_work_on_zinc(galvanized=True, work_after=work_after_coating(spool)),
        *ends_after_dipping(galvanized=True, preps=spool.preps),
        *may_move_in_the_bath(galvanized=True, turns_deg=spool.turns_deg),
    )
