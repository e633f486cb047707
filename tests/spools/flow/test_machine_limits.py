"""What a machine can take, by list and by limits, and what no machine of the shop takes."""

import pytest

from spools.flow.machine_limits import Machine, Takes, none_takes

INCH = 25.4
THROAT = Takes(od_to_mm=8.625 * INCH)
ROLLS = Takes(("4", "6", "8"), od_from_mm=4.5 * INCH, od_to_mm=8.625 * INCH, wall_to_mm=0.375 * INCH)


# ASME B36.10M: NPS 8 is 8.625 in outside, NPS 10 is 10.75 in; NPS 6 Sch 40 is 0.280 in, Sch 80 0.432 in thick.
@pytest.mark.parametrize(
    ("takes", "pipe", "why"),
    [
        (Takes(), ("OD 47", "W 1"), ""),
        (THROAT, ("8", "40"), ""),
        (THROAT, ("10", "40"), "takes up to 8.625 in outside diameter, this is 10.75 in"),
        (ROLLS, ("6", "40"), ""),
        (ROLLS, ("6", "80"), "takes up to 0.375 in wall, this is 0.432 in"),
        (ROLLS, ("5", "40"), "takes NPS 4, 6, 8, not NPS 5"),
        (ROLLS, ("OD 5.25", "W 0.25"), ""),
        (ROLLS, ("OD 4", "W 0.25"), "takes 4.5 in outside diameter and up, this is 4 in"),
        (ROLLS, ("OD 9.5", "W 0.25"), "takes up to 8.625 in outside diameter, this is 9.5 in"),
        (Takes(("6",)), ("OD 5.25", "W 0.25"), "takes NPS 6; which outside diameters, is not written down"),
    ],
)
def test_a_machine_says_why_a_pipe_does_not_fit(takes, pipe, why):
    assert takes.refusal(*pipe) == why


def test_what_one_machine_takes_is_taken():
    machines = [Machine("Saw", ("cut",), THROAT), Machine("big saw", ("cut",), Takes())]
    assert none_takes("cut", "10", "40", machines) == ""
    assert none_takes("cut", "10", "40", machines[:1]).startswith("Saw takes up to")


def test_nothing_is_said_of_an_operation_that_no_machine_names():
    assert none_takes("beveled", "10", "40", [Machine("bench 1", (), THROAT)]) == ""
