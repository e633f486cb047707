"""What is found at a check: the defects that are rejected by name."""

DEFECTS: dict[str, str] = {
    "undercut": "undercut",
    "porosity": "porosity",
    "fusion": "lack of fusion",
    "penetration": "lack of penetration",
    "crack": "crack",
    "high_low": "high-low, out of line at the joint",
    "dimension": "check dimension off",
    "turn": "turn or clocking off",
    "end": "groove, bevel or thread not right",
    "other": "something else",
}
CAUSES = ("weld", "fit", "saw", "coating", "field")
# What a rejected spool may be sent back to.
BACK_TO = frozenset({"cut", "grooved", "beveled", "coped", "threaded", "welded", "flange welded"})
