"""An odd size is typed as outside diameter and wall, and nothing is built of it without the foreman's yes."""

import pytest

from cutlists.models import StockBar
from spools.flow.roles import Role
from spools.models import Bench, Main, Spool, TieIn
from tests.factories.spools import make_key

ODD = {"odd_od": "5.25", "odd_wall": "0.25"}
READING = {"leg_a": "36 1/8", "leg_b": "22 9/16", "included": "127.5", "closing": "53"} | {
    "measured_to_a": "pipe_end",
    "measured_to_b": "pipe_end",
}


def add(client, job, **fields):
    main = Main.objects.get(job=job)
    form = {"mark": "S9", "main": main.id, "station": "12+60", "side": "left", "nps": "6", "schedule": "40"}
    form |= {"end_a": "beveled", "measured_to_a": "pipe_end", "end_b": "plain", "measured_to_b": "pipe_end"}
    return client.post(f"/jobs/{job.id}/tie-ins/new/", form | {"bend_kind": "miter"} | ODD | fields)


def test_it_waits_for_the_foreman_and_is_built_by_his_word(spool, sign_in):
    field, foreman, job = sign_in(Role.FIELD), sign_in(Role.FOREMAN), spool.tie_in.job
    assert add(field, job).status_code == 302
    tie_in = TieIn.objects.get(mark="S9")
    assert (tie_in.nps, tie_in.schedule) == ("OD 5.25", "W 0.25")
    form = READING | {"set_points": spool.reading.set_points_id, "key": make_key() + "-reading"}
    asked = field.post(f"/field/{tie_in.id}/", form)
    assert asked.status_code == 422
    assert "Odd size: 5.25 in OD, 0.25 in wall stands in no pipe table." in asked.content.decode()
    field.post(f"/field/{tie_in.id}/", form | {"keep_anyway": "yes"})
    tie_in.refresh_from_db()
    assert not tie_in.spools.exists()
    assert b"Odd size" in foreman.get("/floor/").content
    release = f"/readings/{tie_in.current_reading_id}/release/"
    assert field.post(release, {"key": "key-of-release", "reason": "yes"}).status_code == 403
    foreman.post(release, {"key": "key-of-release", "reason": "old drain line, measured twice"})
    built = Spool.objects.get(tie_in=tie_in)
    assert built.nps == "OD 5.25"
    page = foreman.get(f"/spools/{built.id}/")
    assert page.status_code == 200
    assert foreman.get(f"/sheets/spool_sheet/{built.id}.pdf").content.startswith(b"%PDF")
    assert foreman.get(f"/sheets/ticket/{built.id}.pdf").content.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("fields", "name"),
    [
        ({"odd_wall": ""}, "odd_wall"),
        ({"odd_od": ""}, "odd_od"),
        ({"odd_wall": "3"}, "odd_od"),
        ({"odd_od": "x"}, "odd_od"),
    ],
)
def test_half_of_it_or_nonsense_is_asked_back_beside_its_field(spool, sign_in, fields, name):
    answer = add(sign_in(Role.FIELD), spool.tie_in.job, **fields)
    assert answer.status_code == 422
    assert name in answer.context["form"].errors
    assert not TieIn.objects.filter(mark="S9").exists()


def test_bars_of_an_odd_size_come_into_stock(spool, sign_in):
    form = {"nps": "6", "schedule": "40", "material": "A53 B", "heat": "7K2214", "nominal": "21'", "lengths": "21'"}
    answer = sign_in(Role.CUTTER).post("/stock/receive/", form | ODD | {"key": "key-of-receipt"})
    assert answer.status_code == 302
    bar = StockBar.objects.get()
    assert (bar.nps, bar.schedule) == ("OD 5.25", "W 0.25")
    assert b"OD 5.25" in sign_in(Role.CUTTER).get("/stock/").content


def waiting(spool, field):
    """An odd size that was measured and waits for the foreman."""
    add(field, spool.tie_in.job)
    tie_in = TieIn.objects.get(mark="S9")
    form = READING | {"set_points": spool.reading.set_points_id, "key": make_key() + "-reading", "keep_anyway": "yes"}
    field.post(f"/field/{tie_in.id}/", form)
    tie_in.refresh_from_db()
    return tie_in


def test_before_he_says_yes_the_foreman_reads_which_machine_does_not_take_it(spool, sign_in):
    tie_in = waiting(spool, sign_in(Role.FIELD))
    saw = Bench.objects.create(shop=spool.shop, name="Saw", operations=["cut", "beveled"], od_to_mm=5 * 25.4)
    page = f"/readings/{tie_in.current_reading_id}/"
    said = sign_in(Role.FOREMAN).get(page).content.decode()
    assert "Cut: Saw takes up to 5 in outside diameter, this is 5.25 in." in said
    assert "Bevel: Saw takes up to 5 in" in said
    saw.od_to_mm = 6 * 25.4
    saw.save()
    assert "No machine here takes it" not in sign_in(Role.FOREMAN).get(page).content.decode()


def test_a_bench_refuses_the_odd_size_that_is_beyond_its_rolls(spool, sign_in):
    foreman, tie_in = sign_in(Role.FOREMAN), waiting(spool, sign_in(Role.FIELD))
    foreman.post(f"/readings/{tie_in.current_reading_id}/release/", {"key": "key-of-release", "reason": "measured"})
    built = Spool.objects.get(tie_in=tie_in)
    small = Bench.objects.create(shop=spool.shop, name="2", sizes=["4"], od_to_mm=4.5 * 25.4)
    able = Bench.objects.create(shop=spool.shop, name="3", sizes=["4", "6"], od_to_mm=6.625 * 25.4)
    put = {"deed": "put_on_bench", "key": "key-of-bench-2"}
    refused = foreman.post(f"/spools/{built.id}/deed/", put | {"bench": small.id}).content.decode()
    assert "Bench 2 takes up to 4.5 in outside diameter, this is 5.25 in." in refused
    foreman.post(f"/spools/{built.id}/deed/", put | {"bench": able.id, "key": "key-of-bench-3"})
    built.refresh_from_db()
    assert built.bench == able


def test_the_saw_is_not_planned_for_what_does_not_go_into_its_throat(spool, sign_in):
    foreman, tie_in = sign_in(Role.FOREMAN), waiting(spool, sign_in(Role.FIELD))
    foreman.post(f"/readings/{tie_in.current_reading_id}/release/", {"key": "key-of-release", "reason": "measured"})
    built = Spool.objects.get(tie_in=tie_in)
    Bench.objects.create(shop=spool.shop, name="Saw", operations=["cut"], od_to_mm=5 * 25.4)
    page = foreman.get("/saw/plan/").content.decode()
    assert "No saw here takes it: Saw takes up to 5 in outside diameter, this is 5.25 in." in page
    assert f'name="spool" value="{built.id}">' in page
    answer = foreman.post("/saw/plan/", {"spool": built.id, "key": "key-of-plan-1"})
    assert answer.status_code == 422
    assert "Untick S9" in answer.content.decode()


def test_the_limits_of_a_machine_are_typed_as_lengths_and_come_back_as_typed(spool, sign_in):
    foreman = sign_in(Role.FOREMAN)
    form = {"name": "Groover", "operations": ["grooved"], "is_active": "on", "od_from": "2.375", "od_to": "12 3/4"}
    assert foreman.post("/setup/benches/new/", form | {"wall_to": "1/2"}).status_code == 302
    bench = Bench.objects.get(name="Groover")
    assert bench.takes.words == "outside diameter from 2.375 in to 12.75 in, wall up to 0.5 in"
    assert 'value="12.75"' in foreman.get(f"/setup/benches/{bench.id}/").content.decode()
    wrong = foreman.post(f"/setup/benches/{bench.id}/", form | {"od_to": "2"})
    assert "The largest is smaller than the smallest" in wrong.content.decode()
