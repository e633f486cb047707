"""Old paper says what changed and what each cut piece is still worth, at every stage, as the bare formulas have it."""

import pytest

from geometry.cut_lengths import cut_lengths_mm
from geometry.tables import elbow
from spools.actions.let_go import let_go
from spools.actions.record_step import Tap, record_step
from spools.actions.release_spool import release_spool
from spools.actions.scrap_spool import scrap_spool
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.steps import BY_CODE
from spools.models import Event, Spool
from spools.queries.old_paper import old_paper_of
from spools.queries.spool import one_spool
from spools.say_lengths import say_length
from spools.solving import Typed
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_key, make_spool, take

pytestmark = pytest.mark.django_db
GAP_MM = 2.38125
NEWER = Typed(leg_a="36 1/2", leg_b="22 3/16", included="127.5", closing="53")  # leg A 3/8 longer, leg B 3/8 shorter
STAGES = {
    "not cut": (),
    "one leg cut": (("cut", ("A",)),),
    "all cut": (("cut", ()),),
    "ends made": (("cut", ()), ("grooved", ()), ("beveled", ())),
    "welded": (("cut", ()), ("grooved", ()), ("beveled", ()), ("welded", ())),
}
MADE = {"not cut": set(), "one leg cut": {"A"}}


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def boss(spool):
    return make_person(spool.shop, *Role, name="Kellan")


def bring_to(stage, spool, boss):
    for step, targets in STAGES[stage]:
        record_step(spool_id=spool.id, step=step, person=boss, key=make_key(), at=NOON, tap=Tap(targets=targets))


def revise(spool, boss, typed=NEWER):
    """A newer reading; where the old build was cut already, the foreman scraps it and releases the new one."""
    taken = take(spool.tie_in, typed, again=True)
    if taken.spool:
        return taken.spool
    call = {"person": boss, "at": NOON, "reason": "the newer one stands"}
    scrap_spool(spool_id=spool.id, key=make_key(), **call)
    return release_spool(reading_id=taken.reading.id, key=make_key(), **call)


def answer(spool, boss):
    return old_paper_of(one_spool(spool.id, boss))


def bare_cuts(spool):
    reading = spool.reading
    legs = [(reading.leg_a_mm, reading.leg_b_mm, reading.included_deg)]
    radius = elbow("6", "LR90").bend_radius_mm
    return cut_lengths_mm(legs, bend_radius_mm=radius, takes_a_mm=GAP_MM, takes_b_mm=GAP_MM)[0]


@pytest.mark.parametrize("stage", STAGES)
def test_each_pieces_worth_is_the_difference_of_the_bare_cut_lengths(spool, boss, stage):
    bring_to(stage, spool, boss)
    new = revise(spool, boss)
    made = {piece.mark: piece.answer for piece in answer(spool, boss).pieces if piece.is_made}
    assert set(made) == MADE.get(stage, {"A", "E", "B"})
    old_mm, new_mm = dict(zip("AB", bare_cuts(spool), strict=True)), dict(zip("AB", bare_cuts(new), strict=True))
    tape = 25.4 / 16
    for mark in made.keys() & {"A", "B"}:
        over = old_mm[mark] - new_mm[mark]
        assert made[mark].off_mm == pytest.approx(abs(over), abs=tape)
        welded = "no" if stage == "welded" else "trim"  # B's free end is grooved: 3/8 in doesn't cut a groove off
        assert made[mark].verdict == ("short" if over < 0 else welded)
    if "E" in made:
        assert made["E"].verdict == "good"  # the same turn


def test_nothing_made_is_nothing_lost(spool, boss):
    revise(spool, boss)
    assert answer(spool, boss).verdict.startswith("Nothing of it is made yet")


def test_the_words_say_short_and_where_to_cut_down(spool, boss):
    bring_to("ends made", spool, boss)
    revise(spool, boss)
    words = answer(spool, boss).verdict
    assert 'A is short by 3/8": it does not serve' in words
    assert 'B can be cut down by 3/8" at weld 2; the bevel there comes off with it: make that end anew' in words
    assert "E is still good" in words
    assert "it was scrapped, so look at the steel first" in words


def test_what_is_off_by_less_than_c_allows_is_the_foremans_to_take(spool, boss):
    bring_to("ends made", spool, boss)
    revise(spool, boss, Typed(leg_a="36 1/4", leg_b="22 7/16", included="127.5", closing="53"))
    pieces = {piece.mark: piece for piece in answer(spool, boss).pieces}
    assert (pieces["A"].answer.verdict, pieces["B"].answer.verdict) == ("short", "trim")
    assert pieces["A"].words == 'A is 1/8" short, within the 1/8" that C allows: ask the foreman'
    assert pieces["B"].words.startswith('B is 1/8" long, within the 1/8" that C allows: cut it down at weld 2, or ask')


def test_an_elbow_is_never_near_enough(spool, boss):
    bring_to("ends made", spool, boss)
    revise(spool, boss, Typed(leg_a="36 1/8", leg_b="22 9/16", included="128", closing="53 1/16"))
    elbow_piece = next(piece for piece in answer(spool, boss).pieces if piece.mark == "E")
    assert elbow_piece.words.startswith('E can be cut down by 1/8" on the heel at weld 2')


def test_what_is_welded_is_cut_apart_or_scrapped(spool, boss):
    bring_to("welded", spool, boss)
    revise(spool, boss)
    found = answer(spool, boss)
    words = {piece.mark: piece.words for piece in found.pieces}["B"]
    assert 'B is 3/8" long, but cutting that off would leave part of a groove' in words
    assert found.verdict.startswith("Welded up as it is it doesn't serve")


def test_what_changed_is_said_old_to_new_and_nothing_else(spool, boss):
    new = revise(spool, boss)
    changes = {change.what: (change.old, change.new) for change in answer(spool, boss).changes}
    for mark in "AB":
        old_mm, new_mm = (one.pieces.get(mark=mark).cut_mm for one in (spool, new))
        assert changes[f"{mark}, cut length"] == (say_length(old_mm, "us"), say_length(new_mm, "us"))
    for name, values in (("A", (spool.leg_a_mm, new.leg_a_mm)), ("B", (spool.leg_b_mm, new.leg_b_mm))):
        assert changes[f"leg {name}, turn center to end"] == tuple(say_length(value, "us") for value in values)
    assert not changes.keys() & {"turn", "make-up", "end A", "end B", "pipe", "hand"}


def test_other_ends_and_another_make_up_are_said(spool, boss):
    tie_in = spool.tie_in
    tie_in.end_b, tie_in.bend_kind, tie_in.bend_options = "beveled", "miter", {"welds": 2, "miters_allowed": True}
    tie_in.save()
    revise(spool, boss)
    found = answer(spool, boss)
    changes = {change.what: (change.old, change.new) for change in found.changes}
    assert changes["end B"] == ("grooved", "beveled")
    assert changes["make-up"][0] == "trimmed long radius elbow"
    assert "miter" in changes["make-up"][1]
    worth = {piece.mark: piece.answer.why for piece in found.pieces}
    assert worth["E"] == "gone"


def test_a_reading_that_came_after_cutting_answers_before_anybody_releases_it(spool, boss):
    bring_to("all cut", spool, boss)
    taken = take(spool.tie_in, NEWER, again=True)
    assert taken.spool is None
    found = answer(spool, boss)
    assert found.instead is None
    assert "new reading B after cutting began" in found.why
    assert found.now == "Reading B isn't released yet: the foreman decides."
    assert {piece.mark: piece.answer.verdict for piece in found.pieces} == {"A": "short", "E": "good", "B": "trim"}


def test_once_the_foreman_lets_it_go_its_paper_counts_again(spool, boss):
    bring_to("all cut", spool, boss)
    take(spool.tie_in, NEWER, again=True)
    hold = Spool.objects.get(id=spool.id).the_standing.holds[0].number
    let_go(spool_id=spool.id, hold=hold, person=boss, key=make_key(), at=NOON, reason="the first reading stands")
    assert answer(spool, boss) is None


def test_a_reading_that_makes_no_spool_is_said_so(spool, boss):
    open_ended = Typed(leg_a="36 1/8", leg_b="4", included="127.5", closing="38")
    take(spool.tie_in, open_ended, again=True, keep_anyway=True)
    found = answer(spool, boss)
    assert found.now == "Reading B doesn't make a spool as it is: the foreman decides."
    assert found.pieces == ()


def test_a_scrapped_build_says_why_and_what_is_made_instead(spool, boss):
    bring_to("all cut", spool, boss)
    call = {"person": boss, "at": NOON}
    scrap_spool(spool_id=spool.id, key=make_key(), reason="bent by the fork truck", **call)
    found = answer(spool, boss)
    assert "scrapped" in found.why
    assert "bent by the fork truck" in found.why
    assert found.now == "Nothing is made instead yet: ask the foreman."
    new = release_spool(reading_id=spool.reading_id, key=make_key(), reason="again", **call)
    found = answer(spool, boss)
    assert found.instead == new
    assert found.changes == ()
    assert "look at the steel first" in found.verdict


def test_the_oldest_paper_is_compared_with_the_newest_build(spool, boss):
    bring_to("all cut", spool, boss)
    second = revise(spool, boss)
    third = revise(second, boss, Typed(leg_a="36 7/8", leg_b="22 9/16", included="127.5", closing="53 3/4"))
    assert third.build == 3
    found = answer(spool, boss)
    assert found.instead == third
    over = bare_cuts(spool)[0] - bare_cuts(third)[0]
    leg = next(piece.answer for piece in found.pieces if piece.mark == "A")
    assert (leg.verdict, leg.off_mm) == ("short", pytest.approx(-over, abs=25.4 / 16))


def test_where_the_newer_build_waits_too_it_is_said(spool, boss):
    second = revise(spool, boss)
    bring_to("all cut", second, boss)
    take(spool.tie_in, CLOSES, again=True)
    assert answer(spool, boss).now == "214 B came after it, and waits too: it was measured again."


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("step", [code for code in BY_CODE if code != "measured"])
def test_no_step_is_recorded_on_an_old_build_at_any_stage(spool, boss, stage, step):
    bring_to(stage, spool, boss)
    new = revise(spool, boss)
    before = Event.objects.filter(spool=spool).count()
    with pytest.raises(ShopError) as refused:
        record_step(spool_id=spool.id, step=step, person=boss, key=make_key(), at=NOON)
    assert refused.value.status == 409
    assert refused.value.words.startswith("OLD PAPER: 214 build A was ")
    assert f"{new.label} is made instead" in refused.value.what_to_do
    assert Event.objects.filter(spool=spool).count() == before


def test_paper_that_counts_asks_the_database_nothing(spool, boss, django_assert_num_queries):
    found = one_spool(spool.id, boss)
    with django_assert_num_queries(0):
        assert old_paper_of(found) is None
