"""Every way in by old paper stops: scanned, typed at the find box, typed at a bench, posted with a step."""

import pytest

from spools.flow.roles import Role
from spools.models import Bench, Event
from spools.queries.spool import scan_code
from tests.factories.spools import CLOSES, make_key, take


@pytest.fixture
def newer(spool):
    return take(spool.tie_in, CLOSES, again=True).spool


@pytest.fixture
def bench(spool):
    return Bench.objects.create(shop=spool.shop, name="1", operations=["welded"])


def codes(spool):
    return [scan_code(spool), *(f"{scan_code(spool)}-{mark}" for mark in ("A", "E", "B"))]


def typed_on_old_paper(spool):
    """What can be read off the old ticket: its code, its mark with the revision, the mark painted on each piece."""
    return [*codes(spool), "214 A", "214 rev A", "214 build A", "214-A", "214-E", "214-B", "214 a-b"]


def test_every_code_of_the_old_build_answers_with_the_newer_one(spool, newer, sign_in):
    client = sign_in(Role.FITTER)
    for code in codes(spool):
        for address in (f"/S/{code}", f"/s/{code.lower()}/"):
            page = client.get(address)
            assert page.status_code == 200
            assert b"OLD PAPER. STOP." in page.content
            assert page.context["old"].instead == newer
    assert b"OLD PAPER" not in client.get(f"/S/{scan_code(newer)}-A").content


def test_what_is_typed_from_old_paper_finds_the_old_build_and_its_answer(spool, newer, sign_in):
    client = sign_in(Role.FITTER)
    for text in typed_on_old_paper(spool):
        found = client.get("/find/", {"q": text})
        assert found["Location"] == f"/s/{scan_code(spool)}/", text
    assert client.get("/find/", {"q": "214"})["Location"] == f"/spools/{newer.id}/"
    for text in ("214 B", "214 B-A", "214 B-E", scan_code(newer).lower()):
        assert client.get("/find/", {"q": text})["Location"] == f"/s/{scan_code(newer)}/", text


def test_a_tie_in_that_is_really_called_so_comes_first(spool, newer, sign_in):
    from tests.factories.jobs import make_tie_in

    other = take(make_tie_in(spool.tie_in.job, "214-A"), CLOSES).spool
    assert sign_in(Role.FITTER).get("/find/", {"q": "214-A"})["Location"] == f"/spools/{other.id}/"


def test_a_letter_that_was_never_printed_is_not_found(spool, sign_in):
    client = sign_in(Role.FITTER)
    assert client.get(f"/S/S{spool.id}-C").status_code == 404
    assert client.get("/find/", {"q": "214 C"}).status_code == 200


def test_old_paper_at_a_bench_shows_the_answer_and_nothing_to_tap(spool, newer, bench, sign_in):
    client = sign_in(Role.FITTER)
    for text in typed_on_old_paper(spool):
        page = client.get(f"/benches/{bench.id}/", {"mark": text})
        assert page.context["old"].spool == spool, text
        assert page.context["hands"] == []
        assert f"Take {newer.label} in hand" in page.content.decode()
    page = client.get(f"/benches/{bench.id}/", {"mark": "214"})
    assert page.context["old"] is None
    assert page.context["in_hand"] == newer


def test_a_step_by_any_old_code_is_refused_in_words_and_nothing_is_recorded(spool, newer, bench, sign_in):
    client = sign_in(*Role)
    before = Event.objects.count()
    for code in codes(spool):
        form = {"step": "cut", "key": make_key() + "-tapped"}
        tries = [
            client.post(f"/s/{code}/", form),
            client.post(f"/benches/{bench.id}/tap/", form | {"spool": code}, headers={"accept": "application/json"}),
            client.post(f"/spools/{spool.id}/step/", form),
            client.post(f"/api/v1/spools/{spool.id}/steps/", form, content_type="application/json"),
        ]
        for answer in tries:
            assert answer.status_code == 409
            assert "OLD PAPER: 214 build A was superseded." in answer.content.decode()
            assert "214 B is made instead" in answer.content.decode()
    assert Event.objects.count() == before


def test_a_step_by_a_good_code_is_recorded_at_the_bench(spool, bench, sign_in):
    form = {"step": "cut", "key": make_key() + "-tapped", "spool": f"{scan_code(spool)}-A", "target": "A"}
    answer = sign_in(*Role).post(f"/benches/{bench.id}/tap/", form, headers={"accept": "application/json"})
    assert answer.json()["state"] == "kept"
    assert spool.events.filter(code="cut").count() == 1


def test_another_shop_learns_nothing_of_the_code(spool, newer, sign_in):
    from django.test import Client

    from tests.factories.people import make_person, make_shop

    client = Client()
    stranger = make_person(make_shop("Elsewhere"), *Role)
    client.force_login(stranger, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(f"/S/{scan_code(spool)}").status_code == 404
    assert b"214 B" not in client.get("/find/", {"q": scan_code(spool)}).content
