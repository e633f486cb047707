"""Tie-ins for the tests of bends and builds, in inches, as the trade says them."""

from geometry.bends import BendChoice, Turn
from geometry.build import SpoolRequest
from geometry.ends import EndChoice
from geometry.tables import pipe

IN = 25.4
BEVELED = EndChoice("beveled", "pipe_end")
GROOVED = EndChoice("grooved", "pipe_end")
MAKE_UPS = (
    BendChoice("trimmed_elbow", "long"),
    BendChoice("trimmed_elbow", "short"),
    BendChoice("miter", welds=1),
    BendChoice("miter", welds=2, bend_radius_mm=20 * IN),
    BendChoice("miter", welds=3, bend_radius_mm=30 * IN),
    BendChoice("miter", welds=5, bend_radius_mm=36 * IN),
    BendChoice("bent_pipe", bend_radius_mm=20 * IN),
)


def tie_in(a=40.3125, b=27.875, included=142.0, *, nps="4", schedule="40", gap=0.09375, closing=None, **more):
    """Return a request with legs, gap and closing in inches."""
    more = {"bend": BendChoice(), "end_a": BEVELED, "end_b": BEVELED} | more
    return SpoolRequest(
        pipe=pipe(nps, schedule),
        leg_a_mm=a * IN,
        leg_b_mm=b * IN,
        included_deg=included,
        root_gap_mm=gap * IN,
        closing_mm=None if closing is None else closing * IN,
        **more,
    )


def turn(turn_deg, choice=None, *, nps="4", schedule="40", gap=0.0, kerf=0.0):
    """Return one turn to make up, gap and kerf in inches."""
    return Turn(
        pipe=pipe(nps, schedule),
        turn_deg=turn_deg,
        choice=choice or BendChoice(),
        gap_mm=gap * IN,
        kerf_mm=kerf * IN,
    )


def codes(findings):
    """Return the codes of some findings."""
    return [finding.code for finding in findings]
