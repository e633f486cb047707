"""Status is a fold of events: one by one or all at once, with undo and rework, it comes out the same."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from spools.flow.routes import SPOOL, Route, RoutePiece, stored_route
from spools.flow.status import Happened, Standing, advance, as_stored, fold, next_step, status, stored_standing
from spools.flow.steps import BY_CODE, before, dependents, needed

START = datetime(2026, 11, 24, 15, 0, tzinfo=UTC)
TWO_LEGS = Route(
    pieces=(
        RoutePiece("A", True, ((1, "beveled"), (2, "beveled"))),
        RoutePiece("E", True, ((2, "beveled"),)),
        RoutePiece("B", True, ((1, "beveled"), (2, "grooved"))),
    ),
    welds=2,
    coating=True,
)
ONE_PIECE = Route(pieces=(RoutePiece("A", True, ((1, "grooved"), (2, "grooved"))),), welds=0, coating=False)


def event(number: int, code: str, *targets: str, **fields) -> Happened:
    return Happened(number, code, START + timedelta(minutes=number), targets=targets, **fields)


@st.composite
def histories(draw) -> list[Happened]:
    route = TWO_LEGS
    events: list[Happened] = []
    for number in range(1, draw(st.integers(1, 14)) + 1):
        kind = draw(st.sampled_from(["step", "step", "step", "hold", "let_go", "rework", "undo", "rush", "bench"]))
        live = [e.number for e in events if e.undoes is None]
        if kind == "step":
            step = draw(st.sampled_from(needed(route)))
            targets = draw(st.lists(st.sampled_from(step.targets(route)), unique=True, min_size=1))
            events.append(event(number, step.code, *targets))
        elif kind == "rework":
            code = draw(st.sampled_from(["cut", "welded"]))
            gone = tuple((c, BY_CODE[c].targets(route)) for c in (code, *dependents(code)))
            events.append(event(number, "rejected", withdraws=gone))
        elif kind == "undo" and live:
            events.append(event(number, "undone", undoes=draw(st.sampled_from(live))))
        elif kind == "let_go" and live:
            events.append(event(number, "let_go", refers_to=draw(st.sampled_from(live))))
        elif kind == "hold":
            events.append(event(number, "held", reason="waits"))
        elif kind == "rush":
            events.append(event(number, "rushed"))
        else:
            events.append(event(number, "put_on_bench", bench=draw(st.integers(1, 3))))
    return events


@given(histories())
def test_step_by_step_equals_all_at_once_where_nothing_is_undone(history):
    standing = Standing()
    for one in history:
        if one.undoes is None:
            standing = advance(standing, one, TWO_LEGS)
    assert standing == fold([one for one in history if one.undoes is None], TWO_LEGS)


@given(histories())
def test_an_undone_event_is_as_if_it_never_was(history):
    undone = {one.undoes for one in history if one.undoes is not None}
    without = [one for one in history if one.undoes is None and one.number not in undone]
    assert fold(history, TWO_LEGS) == fold(without, TWO_LEGS)


@given(histories())
def test_a_standing_survives_its_storage(history):
    standing = fold(history, TWO_LEGS)
    assert stored_standing(as_stored(standing)) == standing


@given(histories())
def test_status_and_next_step_never_contradict_each_other(history):
    standing = fold(history, TWO_LEGS)
    order = [step.code for step in needed(TWO_LEGS)]
    upcoming = next_step(standing, TWO_LEGS)
    if upcoming and status(standing, TWO_LEGS) != "measured":
        assert order.index(status(standing, TWO_LEGS)) < order.index(upcoming)


def test_a_route_survives_its_storage():
    assert stored_route(TWO_LEGS.as_stored()) == TWO_LEGS


def test_steps_that_are_not_needed_count_as_passed():
    history = [event(1, "measured", SPOOL), event(2, "cut", "A")]
    standing = fold(history, ONE_PIECE)
    assert next_step(standing, ONE_PIECE) == "grooved"
    standing = advance(standing, event(3, "grooved", "A.1", "A.2"), ONE_PIECE)
    assert (status(standing, ONE_PIECE), next_step(standing, ONE_PIECE)) == ("grooved", "accepted")
    assert "at_coating" not in [step.code for step in needed(ONE_PIECE)]


def test_what_must_come_first_is_asked_for_the_same_piece_only():
    assert before(BY_CODE["grooved"], "B.2", TWO_LEGS) == (("cut", ("B",)),)
    assert dict(before(BY_CODE["welded"], SPOOL, TWO_LEGS))["cut"] == ("A", "E", "B")


def test_everything_that_stands_on_a_cut():
    assert dependents("cut") == (
        "grooved",
        "beveled",
        "coped",
        "threaded",
        "welded",
        "flange welded",
        "accepted",
        "at_coating",
        "back",
        "delivered",
    )


def test_rework_withdraws_and_counts_another_attempt():
    history = [event(1, "measured", SPOOL), event(2, "cut", "A", "E", "B"), event(3, "welded", SPOOL)]
    history.append(event(4, "rejected", withdraws=(("welded", (SPOOL,)),)))
    standing = fold(history, TWO_LEGS)
    assert standing.attempts == 2
    assert "welded" not in standing.reached
    assert standing.done["cut"] == ("A", "E", "B")


def test_every_operation_that_an_end_needs_has_its_row():
    from geometry.ends import END_PREPS, EndChoice, OnMain
    from geometry.tables import pipe

    on_main = OnMain(od_mm=323.85, wall_mm=9.525, included_deg=60.0) if OnMain else None
    for prep in END_PREPS:
        choice = EndChoice(prep=prep.code, measured_to=prep.measured_to[0], on_main=on_main)
        operations = set(prep.effect(pipe("4", "40"), choice).operations)
        assert operations, prep.code
        assert operations <= set(BY_CODE), (prep.code, operations)
