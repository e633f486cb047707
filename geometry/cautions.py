"""Cautions of the whole job that a tool must print: each a function of plain facts, with its exact trigger.

Those of one end stand with that end (``geometry/ends``), those of one bend with that bend (``geometry/bends``), those
of readings with the checks.
"""

from collections.abc import Sequence

from geometry.findings import Figure, Finding, caution, warning

KETTLE_LONG_MM = 9144.0
"""30 ft. Source: public galvanizing page on kettle sizes (average 40 ft long, 5 to 8 ft wide, it varies)."""

KETTLE_WIDE_MM = 1524.0
"""5 ft. Source: as above."""

HOT_WORK = ("cut", "beveled", "coped", "ground", "welded", "flange welded", "field trim")
"""Work that burns or throws zinc; grooving and threading by machine don't."""

_SLACK_MM = 1e-6


def kettle_size(*, box_mm: Sequence[float]) -> tuple[Finding, ...]:
    """Ask for the kettle when the longest side of the box is over 30 ft or the next over 5 ft; three sides in mm.

    >>> [finding.code for finding in kettle_size(box_mm=(1600.0, 9000.0, 114.3))]
    ['kettle_size']
    """
    longest_mm, wide_mm, *_ = sorted(box_mm, reverse=True)
    if longest_mm <= KETTLE_LONG_MM + _SLACK_MM and wide_mm <= KETTLE_WIDE_MM + _SLACK_MM:
        return ()
    text = "Longer than 30 ft or wider than 5 ft: ask the galvanizer for kettle size."
    return (warning("kettle_size", text, Figure("longest", longest_mm, "mm"), Figure("wide", wide_mm, "mm")),)


def hot_work_on_zinc(*, galvanized: bool, work_after: Sequence[str]) -> tuple[Finding, ...]:
    """Warn when anything of ``HOT_WORK`` is still to be done on a galvanized spool.

    Source: public safety pages on zinc fume; ASTM A780 for the repair.

    >>> [finding.code for finding in hot_work_on_zinc(galvanized=True, work_after=("field trim",))]
    ['zinc_fume']
    """
    hot = [work for work in work_after if work in HOT_WORK]
    if not galvanized or not hot:
        return ()
    text = f"Zinc fume from {' and '.join(hot)} after galvanizing. Strip zinc, ventilate, respirator, repair coating."
    return (warning("zinc_fume", text),)


def ends_after_dipping(*, galvanized: bool, preps: Sequence[str]) -> tuple[Finding, ...]:
    """Say what zinc does to grooved and threaded ends.

    Source: public roll-groove sheets; threads from memory of ASTM A385 practice.

    >>> [finding.code for finding in ends_after_dipping(galvanized=True, preps=("grooved", "beveled"))]
    ['groove_after_dipping']
    """
    if not galvanized:
        return ()
    found = []
    if "grooved" in preps:
        text = "After dipping check groove diameter, flare, gasket seat; smooth runs."
        found.append(caution("groove_after_dipping", text))
    if "threaded" in preps:
        found.append(caution("thread_after_dipping", "Zinc fills threads: mask them, or chase them after dipping."))
    return tuple(found)


def may_move_in_the_bath(*, galvanized: bool, turns_deg: Sequence[float]) -> tuple[Finding, ...]:
    """Ask for the included angle again after coating of every welded spool that turns.

    Source: ASTM A384 practice, from memory (one-sided welds move; an odd-angle spool by up to 1/2 degree).

    >>> [finding.code for finding in may_move_in_the_bath(galvanized=True, turns_deg=(38.0,))]
    ['may_move_in_the_bath']
    """
    if not galvanized or not any(turns_deg):
        return ()
    text = "The bath can open or close a bend by half a degree: check the included angle again after coating."
    return (caution("may_move_in_the_bath", text),)


def line_not_isolated(*, line_live: bool | None) -> tuple[Finding, ...]:
    """Warn when the line to be tied into is live, or when nobody said; None is nobody said.

    >>> [finding.code for finding in line_not_isolated(line_live=None)]
    ['line_live']
    """
    if line_live is False:
        return ()
    said = "The line is still live" if line_live else "It isn't said whether the line is still live"
    return (warning("line_live", f"{said}. Not measured by this form; ask."),)
