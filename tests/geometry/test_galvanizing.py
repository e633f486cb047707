"""What the load list says of a spool on its way to the galvanizer."""

import pytest

from geometry.galvanizing import ToZinc, dip, open_spool
from geometry.tables import pipe
from geometry.vents import ClosedEnd, Space
from geometry.weights import pipe_kg, zinc_kg

FOUR = pipe("4", "40")


def spool(**changes):
    """Return a plain open spool of NPS 4, 1.5 m along its center line."""
    given = {
        "pipe": FOUR,
        "center_line_mm": 1500.0,
        "black_kg": pipe_kg(FOUR, length_mm=1500.0),
        "box_mm": (1200.0, 700.0, 114.3),
        "spaces": (open_spool(name="214", nps="4", id_mm=FOUR.id_mm),),
    }
    return ToZinc(**(given | changes))


def test_dipped_weight_is_black_weight_and_the_usual_coat():
    answer = dip(spool())
    assert answer.coating_um == 75
    assert answer.zinc_kg == zinc_kg(FOUR, length_mm=1500.0, coating_um=75)
    assert answer.usual_zinc_kg == pytest.approx(1.4 * answer.zinc_kg)
    assert answer.dipped_kg == pytest.approx(answer.black_kg + answer.usual_zinc_kg)
    assert answer.biggest_mm == 1200.0


def test_light_wall_gets_the_thinner_coat_of_its_own_row():
    assert dip(spool(pipe=pipe("4", "10S"))).coating_um == 45


def test_every_caution_of_the_spool_comes_together():
    shut = Space(
        name="214",
        nps="4",
        id_mm=FOUR.id_mm,
        open_ends=0,
        closed_ends=(ClosedEnd("end A", "cap"), ClosedEnd("end B", "cap")),
    )
    answer = dip(
        spool(
            spaces=(shut,),
            box_mm=(9500.0, 700.0, 114.3),
            preps=("grooved", "threaded"),
            turns_deg=(38.0,),
            work_after=("field trim",),
        )
    )
    assert [finding.code for finding in answer.findings] == [
        "sealed_cavity",
        "kettle_size",
        "zinc_fume",
        "groove_after_dipping",
        "thread_after_dipping",
        "may_move_in_the_bath",
    ]


@pytest.mark.parametrize(("preps", "codes"), [(("beveled", "plain"), ["zinc_fume"]), (("plain", "plain"), [])])
def test_an_end_that_the_field_welds_is_welded_on_zinc(preps, codes):
    found = [finding.code for finding in dip(spool(preps=preps)).findings]
    assert found == ["keep_ends_open", *codes]


def test_a_spool_of_no_weight_is_refused():
    with pytest.raises(ValueError, match="weigh something"):
        dip(spool(black_kg=0.0))
