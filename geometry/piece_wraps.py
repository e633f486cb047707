"""The wraps and trim marks that a spool's own pieces need, each with its piece and the end it is for."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from geometry.ends import EndChoice, OnMain
from geometry.pieces import Piece, PieceEnd
from geometry.spool import ChainRequest, SpoolAnswer, SpoolRequest
from geometry.tables import PipeRow
from geometry.wraps import (
    ElbowTrim,
    Hole,
    Layout,
    Saddle,
    Wrap,
    elbow_trim_marks,
    hole_layout,
    miter_end_wrap,
    miter_middle_wrap,
    saddle_wrap,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWrap:
    """What is laid around one end of one piece: a wrap, an elbow's trim marks, or a saddle with the main's hole.

    ``at`` is the end (``weld 1``, ``end B``), or both ends of a miter's middle piece (``weld 1 and weld 2``).
    """

    mark: str
    at: str
    wrap: Wrap | None = None
    trim: ElbowTrim | None = None
    hole: Hole | None = None


def piece_wraps(
    answer: SpoolAnswer, request: SpoolRequest | ChainRequest, *, layout: Layout | None = None
) -> tuple[PieceWrap, ...]:
    """Return every wrap of a spool in order from end A; none for a spool that can't be built.

    Args: the answer, what was asked (for its pipe, kerf and ends), and how the wraps are laid out.
    Raises: WrapError where a saddle's or a cut's figures can't be laid out.
    """
    laid = layout or Layout()
    return tuple(
        wrap
        for piece in answer.pieces
        for wrap in (
            *_trim(piece, request.pipe, request.kerf_mm, laid),
            *_miters(piece, request.pipe, laid),
            *_saddles(piece, request, laid),
        )
    )


def saddle_of(branch: PipeRow, on_main: OnMain) -> Saddle:
    """Return the saddle of a branch on a main."""
    return Saddle(
        main_od_mm=on_main.od_mm,
        main_wall_mm=on_main.wall_mm,
        branch_od_mm=branch.od_mm,
        branch_wall_mm=branch.wall_mm,
        included_deg=on_main.included_deg,
        offset_mm=on_main.offset_mm,
        seat=on_main.seat,
        edge=on_main.edge,
    )


def _trim(piece: Piece, pipe: PipeRow, kerf_mm: float, layout: Layout) -> Iterator[PieceWrap]:
    """Yield the marks of an elbow that is cut: its last end has operations, a whole one has none."""
    if piece.kind != "elbow" or not piece.ends[-1].operations:
        return
    trim = elbow_trim_marks(
        radius_mm=piece.bend_radius_mm,
        od_mm=pipe.od_mm,
        turn_deg=piece.turn_deg,
        from_deg=float(piece.made_from[2:]),
        kerf_mm=kerf_mm,
        lines=layout.lines,
    )
    yield PieceWrap(mark=piece.mark, at=piece.ends[-1].at, trim=trim)


def _miters(piece: Piece, pipe: PipeRow, layout: Layout) -> Iterator[PieceWrap]:
    first, last = piece.ends
    if piece.kind == "elbow" or not (first.cut_angle_deg or last.cut_angle_deg):
        return
    if first.cut_angle_deg == last.cut_angle_deg and not last.roll_deg:
        # the gap shortens the piece, so the planes meet where its own length says, not at the line's own radius
        radius_mm = piece.cut_length_mm / 2.0 / tan(radians(first.cut_angle_deg))
        wrap = miter_middle_wrap(
            od_mm=pipe.od_mm,
            wall_mm=pipe.wall_mm,
            cut_deg=first.cut_angle_deg,
            effective_radius_mm=radius_mm,
            layout=layout,
        )
        yield PieceWrap(mark=piece.mark, at=f"{first.at} and {last.at}", wrap=wrap)
        return
    for end in (first, last):
        if end.cut_angle_deg:
            yield PieceWrap(mark=piece.mark, at=end.at, wrap=_miter_end(end, pipe, layout))


def _miter_end(end: PieceEnd, pipe: PipeRow, layout: Layout) -> Wrap:
    return miter_end_wrap(od_mm=pipe.od_mm, wall_mm=pipe.wall_mm, cut_deg=end.cut_angle_deg, layout=layout)


def _saddles(piece: Piece, request: SpoolRequest | ChainRequest, layout: Layout) -> Iterator[PieceWrap]:
    choices: dict[str, EndChoice] = {"end A": request.end_a, "end B": request.end_b}
    for end in piece.ends:
        on_main = choices[end.at].on_main if end.at in choices else None
        if end.prep == "saddle" and on_main is not None:
            saddle = saddle_of(request.pipe, on_main)
            wrap, hole = saddle_wrap(saddle, layout), hole_layout(saddle, layout)
            yield PieceWrap(mark=piece.mark, at=end.at, wrap=wrap, hole=hole)
