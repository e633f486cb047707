"""The working of the checks and of the fit, line by line."""

from collections.abc import Iterator

from geometry.allowances import JointAllowance
from geometry.checks import CheckReport
from geometry.explain import Figures
from geometry.fit import FitReport
from geometry.lengths import Graduation

NAMES = {"A": "leg A", "B": "leg B", "included": "the included angle", "C": "C", "D": "D", "E": "E"}


def check_lines(report: CheckReport, graduation: Graduation) -> tuple[str, ...]:
    """Return the working of the checks: each measure, what moves C, the adjusted reading, and what isn't seen.

    Args: the report of ``check_reading``; the graduation, which says inches or mm.
    """
    return tuple(_checks(report, Figures(graduation)))


def fit_lines(fit: FitReport, allowance: JointAllowance, graduation: Graduation) -> tuple[str, ...]:
    """Return the working of the fit: how far end B may be off, what its joint takes, the chance that it fits."""
    plain = Figures(graduation).plain
    along, across, out = plain(fit.sigma_axial_mm), plain(fit.sigma_lateral_mm), plain(fit.sigma_vertical_mm)
    short, long, offset = plain(allowance.short_mm), plain(allowance.long_mm), plain(allowance.offset_mm)
    misfit = f"{along} along, {across} across in the plane, {out} out of it, {fit.sigma_turn_deg:.3f} degrees"
    takes = f"{short} short, {long} long, {offset} across, {allowance.turn_deg:.3f} degrees"
    lines = [
        f"Fit at end B, one sigma: {misfit}.",
        f"The {allowance.joint} takes {takes} ({allowance.source}).",
        f"Chance that all are inside at once: {100.0 * fit.probability:.1f} percent.",
    ]
    if fit.best_repeat is not None:
        repeat = fit.best_repeat
        lines.append(
            f"Helps most: {NAMES[repeat.number]} once more, the mean taken: {100.0 * repeat.probability:.1f} percent."
        )
    return tuple(lines)


def _checks(report: CheckReport, figures: Figures) -> Iterator[str]:
    for measure in report.measures:
        yield (
            f"{measure.name} measured {figures.plain(measure.measured_mm)}, computed "
            f"{figures.plain(measure.computed_mm)}: {figures.plain(measure.off_mm)} off."
        )
    moves = report.sensitivities
    yield (
        f"C moves {moves.per_leg_a:.3f} for 1 of leg A, {moves.per_leg_b:.3f} for 1 of leg B, "
        f"{figures.plain(moves.mm_per_degree)} for a degree."
    )
    if report.included_by_tape_deg is not None:
        yield f"Included angle by A, B and C: {report.included_by_tape_deg:.3f} degrees."
    made = report.adjusted
    yield (
        f"All readings adjusted: A {figures.plain(made.leg_a_mm)}, B {figures.plain(made.leg_b_mm)}, included "
        f"{made.included_deg:.3f} degrees (sigmas {figures.plain(made.sigma_a_mm)}, {figures.plain(made.sigma_b_mm)}, "
        f"{made.sigma_included_deg:.3f})."
    )
    for seen in report.smallest_seen:
        if seen.size is None:
            yield f"An error in {NAMES[seen.number]} is not seen, whatever its size."
        else:
            size = f"{seen.size:.2f} degrees" if seen.unit == "deg" else figures.plain(seen.size)
            yield f"Smallest error in {NAMES[seen.number]} found 8 times in 10: {size}."
