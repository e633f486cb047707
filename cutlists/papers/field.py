"""Paper for the field: the slip of a jig's check, and the log of what is to measure along a main."""

from typing import BinaryIO

from cutlists.papers.heading import Printing, heading_for
from cutlists.sheets.frame import Paper
from cutlists.sheets.jig_slip import FieldLog, JigSlip, LogLine, MasterPosition, write_field_log, write_jig_slip
from spools.actions.check_jig import INCLUDED_LIMIT_DEG, LENGTH_LIMIT_MM
from spools.models import Main, SetPoints, TieIn
from spools.queries.field import to_measure
from spools.say_lengths import say_length, say_station

MASTERS = ("long and flat", "short and sharp")
SPARE_LINES = 4  # for what the drawing doesn't know of
MOST = 500


def write_jig(out: BinaryIO, set_points: SetPoints, printing: Printing, *, paper: Paper) -> int:
    """Write the check slip of a jig with its newest set points; returns the pages."""
    return write_jig_slip(out, jig_slip_of(set_points, printing), paper=paper)


def jig_slip_of(set_points: SetPoints, printing: Printing) -> JigSlip:
    """Return the slip; what the master must read stands stamped on the master, so there is a line for it."""
    a, b = (say_length(mm, "us") for mm in (set_points.set_point_a_mm, set_points.set_point_b_mm))
    return JigSlip(
        heading=heading_for(printing, shop=printing.person.the_shop),
        jig=f"Jig {set_points.jig.serial}",
        set_points=f"A {a}, B {b}, version {set_points.version}, usual burn {set_points.usual_burn}",
        tolerance_mm=LENGTH_LIMIT_MM,
        tolerance_deg=INCLUDED_LIMIT_DEG,
        masters=tuple(MasterPosition(name=name) for name in MASTERS),
    )


def write_log(out: BinaryIO, main: Main, printing: Printing, *, paper: Paper) -> int:
    """Write the field log of a main; returns the pages."""
    return write_field_log(out, field_log_of(main, printing), paper=paper)


def field_log_of(main: Main, printing: Printing) -> FieldLog:
    """Return what is still to measure along one main, in walking order, and some empty lines."""
    tie_ins = to_measure(printing.person).filter(main=main)[:MOST]
    lines = [_line(tie_in) for tie_in in tie_ins]
    return FieldLog(
        heading=heading_for(printing, shop=printing.person.the_shop, job=main.job),
        log=main.name,
        crew="",
        lines=(*lines, *(LogLine(),) * SPARE_LINES),
    )


def _line(tie_in: TieIn) -> LogLine:
    return LogLine(
        mark=tie_in.mark,
        station=say_station(tie_in.station_mm, tie_in.job.units),
        side=tie_in.side,
        size=tie_in.nps,
    )
