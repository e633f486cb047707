"""Pieces that several made-up sheets share."""

from random import Random

from cutlists.sheets.frame import Heading
from cutlists.sheets.qr import Code, encode
from cutlists.sheets.ticket_values import TicketEnd
from geometry.drawing.shapes import Arc, Drawing, Line, StackedLength, Text

ENDS = (
    TicketEnd("beveled", "beveled 37-1/2°", 'land 1/16", root gap 3/32"'),
    TicketEnd("grooved", "roll grooved", 'groove diameter 4.334", C606 standard roll'),
    TicketEnd("plain", "plain, square"),
    TicketEnd("miter", "miter 18.5° from square", "heel up, turn the wrap's arrow to the main"),
    TicketEnd("saddle", "saddle on NPS 24", "set-on, use the wrap"),
    TicketEnd("flanged_slip_on", "flanged, slip-on 150", "two-hole up"),
    TicketEnd("threaded", "threaded NPT", "5 turns hand tight"),
)
CAUTIONS = (
    "Zinc fume. Weld, cut or grind after galvanizing only with zinc stripped, air moving and a respirator.",
    "After dipping check groove diameter, flare and gasket seat; smooth runs.",
    "Trimmed elbow: check hi-lo. The trimmed face can be out of round and thicker.",
    "STOP. A sealed cavity can burst in the zinc bath. Vent it.",
    "Longer than 30 ft or wider than 5 ft: ask the galvanizer for the kettle size.",
)
ODD_MARKS = ("214", "7", "1043", "E-0088", "SHAFT-2-WEST-0173", "T" * 40, "12-A/3 (west side, 2nd try)", "ÄÖÜ-ñ-88")
PIPES = (
    ("4", "Sch 40", 6.02),
    ("6", "Sch 40", 7.11),
    ("8", "Sch 40", 8.18),
    ("1-1/4", "Sch 10S", 2.77),
    ("24", "STD", 9.53),
)


def heading(rng: Random, *, units: str = "us", revision: str = "B") -> Heading:
    """Return a heading; every fourth has long names."""
    long = rng.random() < 0.25
    return Heading(
        shop="Pellworth Pipe",
        job="2417 Tolvane Regional Airport, east apron gallery"
        + (", Phase 2 drains, contract 88-0417" if long else ""),
        printed_at="Wed Nov 25, 2026 10:42",
        printed_by="M. Okonkwo-Featherstonehaugh, second shift" if long else "R. Ruiz",
        revision=revision,
        units="us" if units == "us" else "metric",
        tape="1/16" if units == "us" else "1mm",
    )


def code(number: int) -> Code:
    """Return a code with its matrix made, as stored with a spool."""
    address = f"HTTPS://SHOP.EXAMPLE/T/{number:06X}B"
    return Code(address, f"{number:06X}B", encode(address))


def sketch(rng: Random) -> Drawing:
    """Return a plain stand-in for a spool's drawing."""
    x, y = rng.uniform(40, 90), rng.uniform(10, 50)
    shapes = (
        Line(10, 12, x, 12, "edge"),
        Line(10, 24, x - 4, 24, "edge"),
        Line(5, 18, x, 18, "center"),
        Arc(x, 30, 18, 270, 60, "edge"),
        Line(x + 15, 20, x + 15 + y, 20 + y, "edge"),
        StackedLength(x / 2, 28, "", "3' 4", 5, 16, '"', 3.5),
        Text(70, 4, "seen from the main, up mark on top", 2.5, "middle"),
    )
    return Drawing(180, 80, shapes, "spool 214", "Scale 1:10.", "Seen from the main, up mark on top.")


NOTES = (
    "",
    "",
    "end B masked: leave bare 2 in for the field weld",
    "grooved both ends: check seat after dip",
    "VENT 2 holes 1/2 in at the pad; sealed until drilled, high point tagged, low point drained",
)
