"""Made-up spool sheets and wrap templates."""

from random import Random

from cutlists.sheets.spool_values import RawReadings, SpoolJoint, SpoolPiece, SpoolSheet
from cutlists.sheets.ticket_values import NamedLength
from cutlists.sheets.wrap import WrapSheet
from geometry.drawing.shapes import Drawing
from geometry.wraps import Hole, Layout, Saddle, Wrap, hole_layout, miter_end_wrap, miter_middle_wrap, saddle_wrap
from tests.cutlists.sheets.samples.parts import CAUTIONS, ENDS, NOTES, ODD_MARKS, code, heading, sketch


def spool(seed: int, *, units: str = "us", drawing: Drawing | None = None) -> SpoolSheet:
    """Return a spool sheet; a tenth have many pieces."""
    rng = Random(seed)
    legs = rng.randint(2, 3) if rng.random() < 0.9 else rng.randint(8, 30)
    pieces = tuple(
        SpoolPiece(
            mark="ABCDEFGHIJKLMNOPQRSTUVWXYZ"[at % 26] + ("" if at < 26 else str(at)),
            words=rng.choice(("pipe", "elbow trimmed from LR90", "miter middle")),
            length_mm=rng.uniform(60, 2500),
            end_1=rng.choice(ENDS).words,
            end_2=rng.choice(ENDS).words,
            heat=rng.choice(("", "K88213")),
        )
        for at in range(legs)
    )
    joints = tuple(
        SpoolJoint(
            number=str(at),
            pieces=f"{pieces[at - 1].mark}-{pieces[at].mark}",
            kind="butt",
            gap_mm=2.38125,
            wps="WPS-07",
        )
        for at in range(1, legs)
    )
    return SpoolSheet(
        heading=heading(rng, units=units, revision=rng.choice("ABC")),
        mark=rng.choice(ODD_MARKS) if rng.random() < 0.3 else str(rng.randint(1, 999)),
        tag=rng.choice(("", "02148", "96691")),
        nps=rng.choice(("4", "6", "1-1/4")),
        schedule="Sch 40",
        material=rng.choice(("", "A53 B")),
        turn_words="gentle bend: turns 38 degrees (included 142)",
        hand_words="seen from the main, up mark on top; bends to the left",
        pieces=pieces,
        elbow_marks=tuple(
            NamedLength(f"elbow {name}", mm) for name, mm in (("throat", 79.4), ("center", 151.2), ("heel", 222.9))
        )
        if rng.random() < 0.7
        else (),
        joints=joints,
        check_mm=rng.uniform(300, 2500),
        check_tolerance_mm=3.175,
        check_words="end to end on the center lines, hold it before the second tack",
        readings=RawReadings(
            leg_a="3' 4-5/16\"",
            leg_b="27 7/8",
            included="142",
            burn="4",
            set_point="4",
            closing=rng.choice(("5' 4-5/8\"", "")),
            jig="jig 2, set point of Nov 3",
            taken="Tue Nov 24, 2026 14:12 by T. Abara",
            revision="B",
        ),
        black_kg=rng.uniform(5, 160),
        zinc_kg=rng.choice((0.0, 1.9)),
        code=code(seed),
        drawing=drawing or sketch(rng),
        notes=tuple(rng.sample(NOTES[2:], rng.randint(0, 2))),
        cautions=tuple(rng.sample(CAUTIONS, rng.randint(0, 5))),
    )


def wrap(seed: int, *, units: str = "us") -> WrapSheet:
    """Return a template: a saddle, a miter's end or middle, or a hole."""
    rng = Random(seed)
    od, wall = rng.choice(((42.2, 2.77), (114.3, 6.02), (168.275, 7.11), (219.1, 8.18)))
    layout = Layout(lines=rng.choice((8, 12, 16, 32)), sheet_mm=0.1)
    saddle = Saddle(
        main_od_mm=609.6,
        main_wall_mm=9.53,
        branch_od_mm=od,
        branch_wall_mm=wall,
        included_deg=rng.uniform(45, 135),
        offset_mm=rng.choice((0.0, 30.0)),
    )
    cut = rng.uniform(5, 22.5)
    template: Wrap | Hole = (
        saddle_wrap(saddle, layout),
        miter_end_wrap(od_mm=od, wall_mm=wall, cut_deg=cut, layout=layout),
        miter_middle_wrap(od_mm=od, wall_mm=wall, cut_deg=cut, effective_radius_mm=2.2 * od, layout=layout),
        hole_layout(saddle, layout),
    )[seed % 4]
    return WrapSheet(
        heading=heading(rng, units=units),
        mark=f"{rng.randint(1, 999)}-B",
        what=("saddle on the main", "miter, end of leg B", "miter, middle piece", "hole in the main")[seed % 4],
        pipe=f"outside diameter {od / 25.4:.3f} in, wall {wall / 25.4:.3f} in, on NPS 24 STD",
        template=template,
        cautions=tuple(rng.sample(CAUTIONS, rng.randint(0, 2))),
    )
