"""Made-up slips, logs, tags, records and reports."""

from random import Random

from cutlists.sheets.jig_slip import FieldLog, JigSlip, LogLine, MasterPosition
from cutlists.sheets.tag_list import TagSheet
from cutlists.sheets.turnaround import ReportFigure, ReportTable, TurnaroundSheet
from cutlists.sheets.turnover import TurnoverLine, TurnoverSheet
from geometry.drawing.shapes import Drawing, Line, Text
from tests.cutlists.sheets.samples.parts import ODD_MARKS, heading


def jig_slip(seed: int, *, units: str = "us") -> JigSlip:
    """Return a slip of two master positions."""
    rng = Random(seed)
    return JigSlip(
        heading=heading(rng, units=units),
        jig="Jig 2",
        set_points="A 4 in, B 4-1/16 in, of Nov 3, 2026",
        tolerance_mm=0.79375,
        tolerance_deg=0.25,
        masters=(
            MasterPosition(name="long and flat", leg_a_mm=1219.2, leg_b_mm=914.4, included_deg=165.0),
            MasterPosition(name="short and sharp", leg_a_mm=406.4, leg_b_mm=355.6, included_deg=75.0),
        ),
    )


def field_log(seed: int, *, units: str = "us") -> FieldLog:
    """Return a log, its last lines empty."""
    rng = Random(seed)
    lines = tuple(
        LogLine(mark=rng.choice(ODD_MARKS), station=f"{at}+40.0", side="east", size="6")
        for at in range(rng.randint(0, 25))
    )
    return FieldLog(
        heading=heading(rng, units=units),
        log=f"Log {seed % 9}",
        crew="T. Abara, J. Lind",
        lines=lines + (LogLine(),) * 4,
    )


def tags(seed: int, *, units: str = "us") -> TagSheet:
    """Return a batch."""
    rng = Random(seed)
    return TagSheet(
        heading=heading(rng, units=units),
        batch=f"T-{seed % 50}",
        tags=tuple(f"{n:05d}" for n in sorted(rng.sample(range(100000), rng.randint(1, 120)))),
    )


def turnover(seed: int, *, units: str = "us") -> TurnoverSheet:
    """Return a record of some spools."""
    rng = Random(seed)
    lines = tuple(
        TurnoverLine(
            mark=rng.choice(ODD_MARKS) if rng.random() < 0.1 else str(rng.randint(1, 999)),
            revision=rng.choice("ABC"),
            tag=f"{rng.randint(0, 99999):05d}",
            pipe="NPS 6 Sch 40",
            heats=rng.choice(("K88213", "K88213, K90117, elbow 4471-B, flange F-20931")),
            welders="RU-2, OS-1",
            check_mm=rng.uniform(300, 2500),
            measured_mm=rng.choice((None, rng.uniform(300, 2500))),
            included_deg=rng.choice((127.5, 131.25, 60.0)),
            found_deg=rng.choice((None, 127.75)),
            accepted="Nov 24, P. Lund",
            coated="Nov 20, Dunmere",
            delivered=rng.choice(("", "Nov 25")),
        )
        for _ in range(rng.randint(1, 40))
    )
    return TurnoverSheet(
        heading=heading(rng, units=units), record=f"R-{seed % 50}", scope="shaft 1 to shaft 2", lines=lines
    )


def chart(rng: Random) -> Drawing:
    """Return a chart of bars with their weeks."""
    shapes = [Line(10, 10, 180, 10, "edge")]
    for at in range(8):
        high = rng.uniform(5, 40)
        shapes += [
            Line(20 + 20 * at, 10, 20 + 20 * at, 10 + high, "cut"),
            Text(20 + 20 * at, 4, f"week {at + 40}", 2.0, "middle"),
        ]
    return Drawing(188, 55, tuple(shapes), "On time by due week")


def turnaround(seed: int, *, units: str = "us") -> TurnaroundSheet:
    """Return a report."""
    rng = Random(seed)
    return TurnaroundSheet(
        heading=heading(rng, units=units),
        as_of="Wed Nov 25, 2026 10:42",
        sentence="84 % on time, 186 of 221 spools whose due time has passed; finish 85 % sure by Dec 18.",
        figures=tuple(
            ReportFigure(value=f"{rng.uniform(1, 40):.1f} h", name=name, note=f"n = {rng.randint(20, 300)}")
            for name in (
                "shop clock, median",
                "90th percentile",
                "within one day",
                "door to door, median",
                "open",
                "late",
            )
        ),
        charts=tuple(chart(rng) for _ in range(rng.randint(1, 3))),
        tables=(
            ReportTable(
                title="On time by due week",
                names=("due week", "on time", "due", "share"),
                figures=(False, True, True, True),
                rows=tuple((f"week {k}", str(30 + k), str(38 + k), f"{70 + k} %") for k in range(rng.randint(1, 9))),
            ),
            ReportTable(
                title="Late, and whose move it is",
                names=("mark", "hours late", "cause", "what was done"),
                figures=(False, True, False, False),
                rows=tuple(
                    (
                        str(rng.randint(1, 999)),
                        f"{rng.uniform(0, 40):.1f}",
                        "groover down 11 h",
                        "moved to bench 4, overtime Saturday; the rest waits for the part",
                    )
                    for _ in range(rng.randint(0, 30))
                ),
            ),
        ),
        forecast=(
            "Done 50 % sure by Dec 11, 85 % by Dec 18, 95 % by Dec 23 (10,000 runs, seed 7).",
            "On the last 12 Mondays the 85 % date held 10 of 12.",
        ),
        definitions=(
            "On time: accepted by its due time, of all spools whose due time has passed; open late ones are misses.",
        ),
    )
