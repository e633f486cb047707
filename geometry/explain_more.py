"""The working of what is asked for besides the pieces: wraps, the spool in space, zinc."""

from collections.abc import Iterator
from math import pi

from geometry.explain import Figures
from geometry.galvanizing import Dip, ToZinc
from geometry.lengths import Graduation
from geometry.overall import Overall
from geometry.piece_wraps import PieceWrap
from geometry.proposals import Proposals
from geometry.tables.zinc import ZINC_G_PER_M2_PER_UM
from geometry.weights import pounds
from geometry.wraps import Wrap


def wrap_lines(wraps: tuple[PieceWrap, ...], graduation: Graduation) -> tuple[str, ...]:
    """Return the ordinates, marks and hole points of some wraps, one line each, with what they are laid off from.

    Args: the wraps; the graduation, which says inches or mm.
    """
    figures = Figures(graduation)
    return tuple(line for one in wraps for line in _wrap(one, figures))


def size_lines(size: Overall, graduation: Graduation) -> tuple[str, ...]:
    """Return a finished spool's points, box, longest bar and center of gravity, one line each."""
    figures = Figures(graduation)
    lines = [f"{one.name[:1].upper()}{one.name[1:]} at {_three(one.point, figures)}." for one in size.points]
    lines += [
        f"Box over the pipe's outside: {_three(size.box_mm, figures)}.",
        f"Longest bar: {figures.plain(size.longest_piece_mm)}.",
        f"Center of gravity: {_three(size.center_of_gravity, figures)}.",
    ]
    return tuple(lines)


def zinc_lines(spool: ToZinc, dipped: Dip) -> tuple[str, ...]:
    """Return the zinc, the weights and what the galvanizer must know, one line each."""
    surface_m2 = pi * (spool.pipe.od_mm + spool.pipe.id_mm) * spool.center_line_mm / 1e6
    per_m2 = f"{dipped.coating_um:g} um x {ZINC_G_PER_M2_PER_UM:g} g/m2 per um"
    zinc = f"{dipped.zinc_kg:.2f} kg, {dipped.percent:.1f} percent"
    after = f"{dipped.dipped_kg:.1f} kg ({pounds(dipped.dipped_kg):.0f} lb)"
    lines = [
        f"Zinc at the standard's minimum: pi x (OD + ID) x length = {surface_m2:.4f} m2, x {per_m2} = {zinc}.",
        f"Weight after, with the usual coat of {dipped.usual_zinc_kg:.2f} kg: {after}.",
    ]
    return (*lines, *(f"{finding.level.capitalize()}: {finding.text}" for finding in dipped.findings))


def proposal_lines(proposals: Proposals) -> tuple[str, ...]:
    """Return every make-up that was tried, one line each, the best first, with reasons."""
    ranked = (
        f"Make-up {one.rank}: {one.words}; {'; '.join(reason.rstrip('.') for reason in one.reasons)}."
        for one in proposals.ranked
    )
    refused = (f"Not {one.words}: {' '.join(found.text for found in one.findings)}" for one in proposals.refused)
    return (*ranked, *refused)


def _wrap(one: PieceWrap, figures: Figures) -> Iterator[str]:
    if one.wrap is not None:
        yield from _ordinates(one, one.wrap, figures)
    if one.trim is not None:
        yield f"{one.mark} at {one.at}: trim marks from the face that stays."
        for mark in one.trim.marks:
            yield _named(mark.number, mark.name, figures.plain(mark.arc_mm))
        yield from one.trim.directions
    if one.hole is not None:
        for point in one.hole.points:
            along, around = figures.plain(point.along_mm), figures.plain(point.around_mm)
            yield f"Hole, line {point.number}: along {along}, around {around}."
        yield from one.hole.directions


def _ordinates(one: PieceWrap, wrap: Wrap, figures: Figures) -> Iterator[str]:
    yield f"{one.mark} at {one.at}: {wrap.kind}, girth {figures.plain(wrap.girth_mm)}."
    for line in wrap.ordinates:
        yield _named(line.number, line.name, figures.plain(line.ordinate_mm))
    yield from wrap.directions


def _named(number: int, name: str, value: str) -> str:
    return f"Line {number}{f' {name}' if name else ''}: {value}."


def _three(values: tuple[float, float, float], figures: Figures) -> str:
    return ", ".join(figures.plain(value) for value in values)
