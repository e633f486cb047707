"""Moving work on the floor: many in one press, off again, a proposal applied, and all of one press undone in one."""

import pytest

from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import record_step
from spools.flow.roles import Role
from spools.models import Bench, Person, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool


@pytest.fixture
def spools(spool):
    foreman = make_person(spool.shop, *Role)
    made = [spool, *(make_spool(str(number), job=spool.tie_in.job) for number in range(215, 220))]
    for one in made:
        for step in ("cut", "grooved", "beveled"):
            record_step(spool_id=one.id, step=step, person=foreman, key=make_key(), at=NOON)
    return made


@pytest.fixture
def benches(spool):
    return [Bench.objects.create(shop=spool.shop, name=str(n), operations=["welded"], sizes=["6"]) for n in (1, 2)]


def on(bench) -> int:
    return Spool.objects.filter(bench=bench).count()


def press(client, address, **form):
    return client.post(address, {"key": make_key() + "-pressed"} | form, follow=True)


def test_many_go_on_a_bench_in_one_press_and_back_in_one(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    page = press(foreman, "/floor/assign", bench=benches[0].id, spool=[one.id for one in spools])
    assert on(benches[0]) == 6
    assert b"6 spools moved." in page.content
    pressed = page.context["moved"]
    page = foreman.post("/floor/moves/undo", {"key": pressed}, follow=True)
    assert b"6 spools put back." in page.content
    assert on(benches[0]) == 0


def test_the_same_press_sent_twice_moves_once(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    form = {"key": "key-of-the-press", "bench": benches[0].id, "spool": [spools[0].id]}
    for _ in range(2):
        foreman.post("/floor/assign", form)
    assert spools[0].events.filter(code="put_on_bench").count() == 1


@pytest.mark.parametrize("length", [8, 44, 45, 60])
def test_a_press_with_a_key_of_any_length_can_be_undone(spools, benches, sign_in, length):
    foreman = sign_in(Role.FOREMAN)
    form = {"key": "k" * length, "bench": benches[0].id, "spool": [one.id for one in spools]}
    pressed = foreman.post("/floor/assign", form, follow=True).context["moved"]
    foreman.post("/floor/moves/undo", {"key": pressed})
    assert on(benches[0]) == 0


def test_ticked_ones_are_taken_off_their_bench(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    press(foreman, "/floor/assign", bench=benches[0].id, spool=[one.id for one in spools])
    press(foreman, "/floor/assign", bench="none", spool=[spools[0].id, spools[1].id])
    assert on(benches[0]) == 4


def test_nothing_ticked_says_what_to_do(spools, benches, sign_in):
    assert b"Tick the spools first" in press(sign_in(Role.FOREMAN), "/floor/assign", bench=benches[0].id).content


def test_a_proposal_shares_them_out_with_reasons_and_is_applied_in_one_press(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    page = foreman.get("/floor/proposal")
    moves = page.context["proposal"].moves
    assert {move.bench for move in moves} == {"1", "2"}
    assert b"free now" in page.content
    press(foreman, "/floor/proposal/apply", move=[f"{move.spool_id}:{move.bench_id}" for move in moves])
    assert (on(benches[0]), on(benches[1])) == (3, 3)


def test_a_bench_that_goes_down_offers_its_queue_and_takes_no_more(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    press(foreman, "/floor/assign", bench=benches[0].id, spool=[one.id for one in spools])
    page = press(foreman, f"/benches/{benches[0].id}/down/", reason="positioner motor", back_at="2036-01-01T06:00")
    assert {move.bench for move in page.context["proposal"].moves} == {"2"}
    press(foreman, "/floor/assign", bench="none", spool=[spools[0].id])
    page = press(foreman, "/floor/assign", bench=benches[0].id, spool=[spools[0].id])
    assert b"Bench 1 is down: positioner motor." in page.content
    press(foreman, f"/benches/{benches[0].id}/up/")
    press(foreman, "/floor/assign", bench=benches[0].id, spool=[spools[0].id])
    assert on(benches[0]) == 6


@pytest.mark.parametrize("role", [Role.FITTER, Role.CUTTER, Role.MANAGER, Role.DRIVER])
def test_only_the_foreman_moves_work(spools, benches, sign_in, role):
    answer = sign_in(role).post("/floor/assign", {"key": "key-of-press", "bench": benches[0].id, "spool": spools[0].id})
    assert answer.status_code == 403
    assert on(benches[0]) == 0


def test_another_shop_s_spools_do_not_move(spools, benches, sign_in):
    Person.objects.filter(username="fieldhand").update(username="fieldhand of this shop")
    stranger = make_spool("900")
    page = press(sign_in(Role.FOREMAN), "/floor/assign", bench=benches[0].id, spool=[stranger.id])
    assert b"There is no spool of that number here." in page.content
    assert not Spool.objects.get(id=stranger.id).bench_id


def test_a_move_that_cannot_be_put_back_is_said(spools, benches, sign_in):
    foreman = sign_in(Role.FOREMAN)
    page = press(foreman, "/floor/assign", bench=benches[0].id, spool=[spools[0].id])
    call = {"spool_id": spools[0].id, "person": make_person(spools[0].shop, *Role), "key": make_key(), "at": NOON}
    put_on_bench(bench_id=benches[1].id, **call)
    foreman.post("/floor/moves/undo", {"key": page.context["moved"]})
    spools[0].refresh_from_db()
    assert spools[0].bench_id == benches[1].id  # the newer move stands
