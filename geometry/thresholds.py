"""Where a check says no: the points of the normal and chi-squared distributions it is judged by."""

from typing import NamedTuple


class Thresholds(NamedTuple):
    """Limits for one significance.

    ``critical_alone``: upper chi-squared points, for 1, 2 and 3 check measures, at the significance: any mistake.
    ``critical``: the same at half the significance, where a leg is tested for its burned inches besides.
    ``long_leg``: one-sided normal points at 1.6 times the significance, for one check measure and for more, where the
    two legs share it. ``power_80``: noncentrality found 8 times in 10 at the significance, for 1, 2 and 3.
    """

    critical_alone: tuple[float, float, float]
    critical: tuple[float, float, float]
    long_leg: tuple[float, float]
    power_80: tuple[float, float, float]


# Source: the distributions themselves; recomputed with scipy.stats in tests/published/test_thresholds.py.
# How the significance is shared out is common practice, no source; measured by tests/benchmarks/blunder_table.py.
THRESHOLDS = {
    0.05: Thresholds(
        (3.841459, 5.991465, 7.814728),
        (5.023886, 7.377759, 9.348404),
        (1.405072, 1.750686),
        (7.848861, 9.634689, 10.902563),
    ),
    0.01: Thresholds(
        (6.634897, 9.210340, 11.344867),
        (7.879439, 10.596635, 12.838156),
        (2.144411, 2.408916),
        (11.678968, 13.880700, 15.457657),
    ),
    0.001: Thresholds(
        (10.827566, 13.815511, 16.266236),
        (12.115665, 15.201805, 17.729996),
        (2.947843, 3.155907),
        (17.074647, 19.662386, 21.545030),
    ),
}
