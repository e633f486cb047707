"""What a made piece is worth for a newer solution, against cut lengths and cut planes worked out another way."""

from dataclasses import replace
from math import cos, inf, pi, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.build import BendChoice, EndChoice, SpoolRequest, build
from geometry.cut_lengths import cut_lengths_mm
from geometry.reuse import MadePiece, serves
from geometry.tables import elbow, groove, pipe

PIPE = pipe("6", "40")
TAPE = 25.4 / 16
OLD = {"leg_a_mm": 917.575, "leg_b_mm": 573.0875, "included_deg": 127.5}
NOTHING, BOTH = (frozenset(), frozenset()), (frozenset({"grooved"}), frozenset({"beveled"}))


def made_of(**fields):
    values = OLD | {
        "pipe": PIPE,
        "bend": BendChoice(),
        "end_a": EndChoice("grooved", "pipe_end"),
        "end_b": EndChoice("beveled", "pipe_end"),
        "root_gap_mm": 2.38125,
    }
    answer = build(SpoolRequest(**(values | fields)))
    assert answer.buildable
    return {piece.mark: piece for piece in answer.pieces}


def worth(old, new, done=NOTHING, welded=(False, False)):
    return serves(MadePiece(old, done, welded), new, pipe=PIPE)


legs = st.floats(600.0, 1200.0)
turns = st.floats(100.0, 165.0)


@given(old=st.tuples(legs, legs, turns), moved=st.tuples(*[st.floats(-30.0, 30.0)] * 2, st.floats(-4.0, 4.0)))
def test_a_legs_verdict_is_the_difference_of_bare_cut_lengths(old, moved):
    new = (old[0] + moved[0], old[1] + moved[1], min(old[2] + moved[2], 170.0))
    before = made_of(leg_a_mm=old[0], leg_b_mm=old[1], included_deg=old[2])
    after = made_of(leg_a_mm=new[0], leg_b_mm=new[1], included_deg=new[2])
    radius = elbow("6", "LR90").bend_radius_mm
    (needed,) = cut_lengths_mm([new], bend_radius_mm=radius, takes_a_mm=2.38125, takes_b_mm=2.38125)
    for mark, needed_mm in zip("AB", needed, strict=True):
        over = before[mark].rounded_cut_mm - needed_mm
        found = worth(before[mark], after[mark])
        same = abs(over) <= TAPE / 2 + 1e-6 or before[mark].rounded_cut_mm == after[mark].rounded_cut_mm
        expected = "good" if same else ("trim" if over > 0 else "short")
        assert found.verdict == expected
        assert found.off_mm == pytest.approx(abs(over) if expected != "good" else 0.0, abs=TAPE + 1e-6)


@given(turn=turns, by=st.floats(-6.0, 6.0))
def test_an_elbow_can_be_cut_down_to_a_gentler_turn_and_never_made_sharper(turn, by):
    new = min(turn + by, 172.0)
    before, after = made_of(included_deg=turn)["E"], made_of(included_deg=new)["E"]
    heel = elbow("6", "LR90").bend_radius_mm + PIPE.od_mm / 2
    marks = [round((180.0 - included) * pi / 180.0 * heel / TAPE) for included in (turn, new)]
    over = marks[0] * TAPE - heel * (180.0 - new) * pi / 180.0
    same = abs(over) <= TAPE / 2 + 1e-6 or marks[0] == marks[1]
    found = worth(before, after)
    assert found.verdict == ("good" if same else "trim" if over > 0 else "short")
    assert found.off_mm == pytest.approx(0.0 if same else abs(marks[0] - marks[1]) * TAPE)


def test_a_quarter_of_a_degree_shows_on_the_heel_of_a_large_elbow():
    large = {"pipe": pipe("8", "40")}
    sharper, gentler = made_of(**large, included_deg=115.75)["E"], made_of(**large, included_deg=116.0)["E"]
    assert serves(MadePiece(gentler), sharper, pipe=large["pipe"]).verdict == "short"
    assert serves(MadePiece(sharper), gentler, pipe=large["pipe"]).verdict == "trim"


@given(turn=turns, by=st.floats(-8.0, 8.0), longer=st.floats(-20.0, 60.0))
def test_a_slanted_cut_stays_within_the_old_steel_line_by_line(turn, by, longer):
    miter = {"bend": BendChoice(kind="miter", welds=2, miters_allowed=True)}
    new_turn = min(turn + by, 170.0)
    before = made_of(included_deg=turn, **miter)["A"]
    after = made_of(included_deg=new_turn, leg_a_mm=OLD["leg_a_mm"] - longer, **miter)["A"]
    found = worth(before, after)
    room = _room_mm(before, after)
    tans = [tan(radians(piece.ends[1].cut_angle_deg)) for piece in (before, after)]
    same_slant = abs(tans[0] - tans[1]) * PIPE.od_mm / 2 <= 1e-6  # a nanometer is no other slant
    if found.verdict == "short":
        assert room < 0
        assert found.off_mm == pytest.approx(-room, abs=TAPE)
    elif found.verdict == "trim":
        assert room > -TAPE
        assert found.at == (("weld 1",) if not same_slant else ("end A",))
    else:
        assert same_slant or abs(tan(radians(by / 4))) * PIPE.od_mm < TAPE


def _room_mm(old, new):
    """Return how far the new piece can slide in the old one, by 720 lines along the pipe."""
    room = inf
    for step in range(720):
        around = cos(step * pi / 360) * PIPE.od_mm / 2
        reach_old = old.rounded_cut_mm + around * tan(radians(old.ends[1].cut_angle_deg))
        reach_new = new.rounded_cut_mm + around * tan(radians(new.ends[1].cut_angle_deg))
        room = min(room, reach_old - reach_new)
    return room


def longer_by(piece, mm):
    return replace(piece, cut_length_mm=piece.cut_length_mm + mm, rounded_cut_mm=piece.rounded_cut_mm + mm)


def test_a_bevel_is_made_again_rather_than_a_groove_cut_into():
    new = made_of()["A"]
    found = worth(longer_by(new, 9.525), new, BOTH)
    assert (found.verdict, found.at, found.lost) == ("trim", ("weld 1",), ("beveled",))


def test_an_end_that_nothing_is_made_on_yet_is_cut_first():
    new = made_of()["A"]
    found = worth(longer_by(new, 9.525), new, (frozenset(), frozenset({"beveled"})))
    assert (found.at, found.lost) == (("end A",), ())


def test_between_two_grooves_a_little_too_long_is_of_no_use_and_a_whole_groove_is():
    both = {"end_a": EndChoice("grooved", "pipe_end"), "bend": BendChoice()}
    new = made_of(**both)["A"]
    ends = (new.ends[0], replace(new.ends[1], prep="grooved", operations=("cut", "grooved")))
    new = replace(new, ends=ends)
    grooves = (frozenset({"grooved"}), frozenset({"grooved"}))
    row = groove("6")
    whole = row.gasket_seat_mm + row.groove_width_mm
    assert worth(longer_by(new, whole - 0.5), new, grooves).why == "groove"
    found = worth(longer_by(new, whole + 0.5), new, grooves)
    assert (found.verdict, found.lost) == ("trim", ("grooved",))


def test_a_groove_that_is_now_to_be_a_bevel_is_cut_off_whole():
    grooved, beveled = made_of()["A"], made_of(end_a=EndChoice("beveled", "pipe_end"))["A"]
    done = (frozenset({"grooved"}), frozenset())
    row = groove("6")
    whole = row.gasket_seat_mm + row.groove_width_mm
    found = worth(grooved, beveled, done)
    assert (found.verdict, found.why) == ("short", "end")
    assert found.off_mm == pytest.approx(whole)
    found = worth(longer_by(grooved, whole), beveled, done)
    assert (found.verdict, found.at, found.lost) == ("trim", ("end A",), ("grooved",))
    assert worth(grooved, beveled).verdict == "good"  # nothing was grooved yet


def test_what_is_welded_up_is_cut_at_its_free_end_only():
    new = made_of(end_a=EndChoice("beveled", "pipe_end"))["A"]
    done = (frozenset({"beveled"}), frozenset({"beveled"}))
    found = worth(longer_by(new, 9.525), new, done, (False, True))
    assert (found.verdict, found.at) == ("trim", ("end A",))
    assert worth(longer_by(new, 9.525), new, done, (True, True)).why == "welded"


def test_other_pipe_and_other_make_up_are_of_no_use():
    old = made_of()["A"]
    assert worth(old, replace(old, schedule="80")).why == "pipe"
    assert worth(old, replace(old, kind="bent_pipe")).why == "kind"
    assert worth(made_of()["E"], made_of(bend=BendChoice(radius="short"))["E"]).why == "bend"


@pytest.mark.parametrize(
    ("moved", "verdict", "at"),
    [((0, 0), "good", ()), ((-12.7, 0), "trim", ("end A",)), ((-12.7, -12.7), "trim", ("end A", "end B")),
     ((-12.7, 12.7), "short", ())],
)  # fmt: skip
def test_bent_pipe_is_compared_on_each_side_of_its_bend(moved, verdict, at):
    bent = {"bend": BendChoice(kind="bent_pipe", bend_radius_mm=600.0), "end_a": EndChoice("plain", "pipe_end")}
    (old,) = made_of(**bent).values()
    (new,) = made_of(**bent, leg_a_mm=OLD["leg_a_mm"] + moved[0], leg_b_mm=OLD["leg_b_mm"] + moved[1]).values()
    found = worth(old, new)
    assert (found.verdict, found.at) == (verdict, at)
    (turned,) = made_of(**bent, included_deg=120.0).values()
    assert worth(old, turned).why == "bend"
