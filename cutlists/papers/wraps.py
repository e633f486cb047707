"""Full-size templates of a spool: one for each slanted cut, and the cope and hole of a saddle."""

from dataclasses import dataclass
from math import radians, tan
from typing import Any

from cutlists.papers.end_facts import HEEL_NOT_READ, saddle_words
from cutlists.papers.heading import Printing, spool_heading
from cutlists.papers.words import schedule_words, shop_cautions
from cutlists.sheets.wrap import WrapSheet
from geometry.ends import EndChoice
from geometry.pieces import Piece, PieceEnd
from geometry.tables import PipeRow, pipe
from geometry.tables.odd_sizes import say_size
from geometry.wraps import (
    Hole,
    Layout,
    Saddle,
    Wrap,
    WrapError,
    hole_layout,
    miter_end_wrap,
    miter_middle_wrap,
    saddle_wrap,
)
from spools.errors import ShopError
from spools.models import Spool
from spools.stored_solutions import Solution, read_solution

PAPER = Layout(sheet_mm=0.1)  # office paper of 80 g/m2 is about 0.1 mm thick: common practice, no source


@dataclass(frozen=True, slots=True)
class _Cut:
    """One template and the cut that it is for; ``words`` say what is cut there."""

    mark: str
    where: str
    words: str
    template: Wrap | Hole
    told: tuple[str, ...] = ()


def wraps_of(spool: Spool, printing: Printing) -> tuple[WrapSheet, ...]:
    """Return the templates of a spool, miters first; cuts that are the same share one.

    Raises ``ShopError`` no_wrap for a spool without one: a trimmed elbow is marked by its three arcs instead.
    """
    solution = read_solution(spool.solution)
    row = pipe(spool.nps, spool.schedule)
    found = [*_miters(solution, row), *_saddles(solution, row, spool.tie_in.job.units)]
    if not found:
        raise ShopError(
            "no_wrap",
            "This spool has no slanted cut, so it needs no wrap.",
            "Its bend is marked by the throat, center and heel on its ticket.",
            status=404,
        )
    same: dict[Any, list[_Cut]] = {}
    for cut in found:
        same.setdefault((cut.words, cut.template), []).append(cut)
    heading, cautions = spool_heading(printing, spool), shop_cautions(spool, solution)
    return tuple(
        WrapSheet(
            heading=heading,
            mark=f"{spool.label}-{', '.join(dict.fromkeys(cut.mark for cut in cuts))}",
            what=f"{_listed([cut.where for cut in cuts])}: {cuts[0].words}",
            pipe=f"{say_size(spool.nps)} {schedule_words(spool.schedule)}",
            template=cuts[0].template,
            told=(*cuts[0].told, *((f"One template for {len(cuts)} pieces: cut it out once.",) * (len(cuts) > 1))),
            cautions=cautions,
        )
        for cuts in same.values()
    )


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def has_wraps(solution: Solution) -> bool:
    """Tell whether a spool needs a template at all."""
    ends = (solution.request.end_a, solution.request.end_b)
    slanted = any(_slanted(piece) for piece in solution.answer.pieces)
    return slanted or any(end.prep == "saddle" and end.on_main for end in ends)


def _slanted(piece: Piece) -> tuple[PieceEnd, ...]:
    return tuple(end for end in piece.ends if end.cut_angle_deg > 0) if piece.kind == "pipe" else ()


def _miters(solution: Solution, row: PipeRow) -> list[_Cut]:
    found: list[_Cut] = []
    for piece in solution.answer.pieces:
        ends = _slanted(piece)
        if _is_middle(piece):
            words = f"middle piece, both ends cut {ends[0].cut_angle_deg:g}° from square"
            found.append(_Cut(piece.mark, piece.mark, words, _middle(piece, ends[0], row)))
            continue
        for end in ends:
            rolled = f", its heel {end.roll_deg:g}° around from the other end's" if end.roll_deg else ""
            words = f"miter cut {end.cut_angle_deg:g}° from square{rolled}"
            wrap = miter_end_wrap(od_mm=row.od_mm, wall_mm=row.wall_mm, cut_deg=end.cut_angle_deg, layout=PAPER)
            found.append(_Cut(piece.mark, f"{piece.mark} at {end.at}", words, wrap))
    return found


def _is_middle(piece: Piece) -> bool:
    """Tell whether one template around the piece's middle serves both its ends."""
    return piece.mark.startswith("M") and all(end.cut_angle_deg > 0 for end in piece.ends)


def _middle(piece: Piece, end: PieceEnd, row: PipeRow) -> Wrap:
    radius_mm = piece.rounded_cut_mm / 2 / tan(radians(end.cut_angle_deg))
    return miter_middle_wrap(
        od_mm=row.od_mm, wall_mm=row.wall_mm, cut_deg=end.cut_angle_deg, effective_radius_mm=radius_mm, layout=PAPER
    )


def _saddles(solution: Solution, row: PipeRow, units: str) -> list[_Cut]:
    found: list[_Cut] = []
    for mark, end in (("A", solution.request.end_a), ("B", solution.request.end_b)):
        saddle = _saddle(end, row)
        if saddle is None or end.on_main is None:
            continue
        sits = f"{saddle_words(end.on_main, units).capitalize()}."
        try:
            cope, hole = saddle_wrap(saddle, PAPER), hole_layout(saddle, PAPER)
        except WrapError as refusal:
            raise ShopError("no_wrap", "This saddle can't be laid out.", str(refusal), status=409) from refusal
        found.append(_Cut(mark, f"{mark}, saddle on the main", "the branch's end", cope, (sits, HEEL_NOT_READ)))
        found.append(_Cut(mark, f"{mark}, saddle on the main", "the hole in the main", hole, (sits,)))
    return found


def _saddle(end: EndChoice, row: PipeRow) -> Saddle | None:
    if end.prep != "saddle" or end.on_main is None:
        return None
    main = end.on_main
    return Saddle(
        main_od_mm=main.od_mm,
        main_wall_mm=main.wall_mm,
        branch_od_mm=row.od_mm,
        branch_wall_mm=row.wall_mm,
        included_deg=main.included_deg,
        offset_mm=main.offset_mm,
        seat=main.seat,
        edge=main.edge,
    )
