"""The foreman's, the fitter's and the driver's pages."""

import pytest

from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import Bench, Load, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool


def accept(spool):
    welder, other = make_person(spool.shop, *Role), make_person(spool.shop, *Role)
    call = {"spool_id": spool.id, "at": NOON}
    record_step(step="welded", person=welder, key=make_key(), tap=Tap(already=True), **call)
    record_step(step="accepted", person=other, key=make_key(), tap=Tap(check_mm=spool.check_mm), **call)


def test_ticked_spools_go_on_a_bench_in_one_press(spool, sign_in):
    bench = Bench.objects.create(shop=spool.shop, name="1")
    other = make_spool("215", job=spool.tie_in.job)
    sign_in(Role.FOREMAN).post(
        "/floor/assign", {"key": "key-of-press", "bench": bench.id, "spool": [spool.id, other.id]}
    )
    assert Spool.objects.filter(bench=bench).count() == 2


def test_what_can_not_move_is_named_and_the_rest_moves(spool, sign_in):
    bench = Bench.objects.create(shop=spool.shop, name="1", sizes=["6"])
    other = make_spool("215", job=spool.tie_in.job, nps="8")
    client = sign_in(Role.FOREMAN)
    form = {"key": "key-of-press", "bench": bench.id, "spool": [spool.id, other.id]}
    page = client.post("/floor/assign", form, follow=True)
    assert b"215: Bench 1 takes NPS 6, not NPS 8." in page.content
    assert Spool.objects.filter(bench=bench).count() == 1


def test_a_bench_shows_the_first_spool_that_is_cut(spool, sign_in):
    bench = Bench.objects.create(shop=spool.shop, name="1")
    foreman = make_person(spool.shop, *Role)
    put_on_bench(spool_id=spool.id, bench_id=bench.id, person=foreman, key=make_key(), at=NOON)
    client = sign_in(Role.FITTER)
    assert client.get(f"/benches/{bench.id}/").context["in_hand"] is None
    record_step(spool_id=spool.id, step="cut", person=foreman, key=make_key(), at=NOON)
    assert client.get(f"/benches/{bench.id}/").context["in_hand"] == spool


def test_a_load_goes_out_comes_back_and_is_delivered(spool, sign_in):
    accept(spool)
    driver = sign_in(Role.DRIVER)
    driver.post("/loads/new/", {"key": "key-of-load", "kind": "coating", "spool": [spool.id]})
    load = Load.objects.get()
    spool.refresh_from_db()
    assert spool.status == "at_coating"
    driver.post(f"/loads/{load.id}/back/", {"key": "key-of-back", "spool": [spool.id]})
    load.refresh_from_db()
    assert load.closed_at is not None
    driver.post("/loads/new/", {"key": "key-of-site", "kind": "site", "spool": [spool.id]})
    site = Load.objects.get(kind="site")
    driver.post(f"/loads/{site.id}/deliver/", {"key": "key-of-delivery", "spool": [spool.id], "receiver": "Okafor"})
    spool.refresh_from_db()
    assert (spool.status, spool.next_step) == ("delivered", "")


def test_what_is_not_accepted_does_not_go(spool, sign_in):
    answer = sign_in(Role.DRIVER).post("/loads/new/", {"key": "key-of-load", "kind": "coating", "spool": [spool.id]})
    assert answer.status_code == 409
    assert b"214 is not accepted" in answer.content
    assert not Load.objects.exists()


def test_a_load_s_paper_is_a_pdf(spool, sign_in):
    accept(spool)
    driver = sign_in(Role.DRIVER)
    driver.post("/loads/new/", {"key": "key-of-load", "kind": "coating", "spool": [spool.id]})
    assert driver.get(f"/loads/{Load.objects.get().id}.pdf").content.startswith(b"%PDF")


@pytest.mark.parametrize(
    "which", ["late", "at_risk", "due", "done", "held", "rush", "to_cut", "not_assigned", "in_shop", "ready"]
)
@pytest.mark.parametrize("kind", ["", ".csv", ".xlsx"])
def test_each_list_opens_and_exports(spool, sign_in, which, kind):
    address = f"/floor/{which}{kind}" if kind else f"/floor/{which}/"
    assert sign_in(Role.FOREMAN).get(address).status_code == 200
