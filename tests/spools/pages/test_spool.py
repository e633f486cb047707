"""One spool's page: one tap records a step, and every refusal offers the way on."""

import re
from dataclasses import replace

import pytest

from spools.flow.roles import Role
from spools.models import Bench
from spools.queries.spool import scan_code
from tests.factories.jobs import make_job
from tests.factories.spools import CLOSES, make_key, make_spool, take


def tap(client, spool, **form):
    return client.post(f"/spools/{spool.id}/step/", {"key": make_key() + "-tapped"} | form)


def test_one_tap_records_the_next_step(spool, sign_in):
    client = sign_in(Role.CUTTER)
    assert tap(client, spool, step="cut", heat="7k2214").status_code == 302
    spool.refresh_from_db()
    assert spool.next_step == "grooved"
    assert set(spool.pieces.values_list("heat__number", flat=True)) == {"7K2214"}


def test_the_page_says_where_it_is_in_one_sentence(spool, sign_in):
    client = sign_in(Role.CUTTER, name="Ruiz")
    tap(client, spool, step="cut")
    page = client.get(f"/spools/{spool.id}/")
    assert page.context["where"].startswith("214: cut ")
    assert "by Ruiz, next: groove" in page.context["where"]


def test_a_tap_out_of_order_asks_and_yes_writes_both(spool, sign_in):
    client = sign_in(Role.CUTTER, Role.FITTER)
    tap(client, spool, step="cut")
    asked = tap(client, spool, step="welded")
    assert asked.status_code == 409
    assert "Leg B has no groove." in asked.content.decode()
    assert b"Grooved and beveled already" in asked.content
    tap(client, spool, step="welded", already="yes")
    spool.refresh_from_db()
    assert spool.status == "welded"


def test_a_scanned_ticket_opens_its_spool_in_upper_and_lower_case(spool, sign_in):
    client = sign_in(Role.FITTER)
    assert client.get(f"/S/{scan_code(spool)}-A").status_code == 200
    assert client.get(f"/s/{scan_code(spool).lower()}/").status_code == 200
    assert client.get("/S/NONSENSE").status_code == 404


def test_undo_takes_the_tap_back(spool, sign_in):
    client = sign_in(Role.CUTTER)
    tap(client, spool, step="cut")
    client.post(f"/spools/{spool.id}/undo/", {"key": "key-of-the-undo", "number": 2})
    spool.refresh_from_db()
    assert spool.next_step == "cut"


@pytest.mark.parametrize(
    "form",
    [
        {"deed": "held", "reason": "no elbow in stock"},
        {"deed": "rushed", "reason": "apron pour Friday"},
        {"deed": "misfit", "how": "long", "reason": "3/8 over at the saddle"},
        {"deed": "scrapped", "reason": "bent by the fork truck"},
        {"deed": "tagged", "tag": "02145"},
    ],
    ids=lambda form: form["deed"],
)
def test_each_deed_beside_the_route_is_done_and_told(spool, sign_in, form):
    client = sign_in(*Role)
    assert client.post(f"/spools/{spool.id}/deed/", form | {"key": "key-of-the-deed"}).status_code == 302
    assert spool.events.filter(code=form["deed"]).count() == 1
    assert client.get(f"/spools/{spool.id}/").status_code == 200


@pytest.mark.parametrize("deed", ["held", "rushed", "scrapped", "rejected", "wrong_cut"])
def test_a_deed_without_its_reason_is_refused_in_words(spool, sign_in, deed):
    answer = sign_in(*Role).post(f"/spools/{spool.id}/deed/", {"deed": deed, "key": "key-of-the-deed"})
    assert answer.status_code in {409, 422}
    assert spool.events.count() == 1


def test_a_bench_that_does_not_take_the_size_says_what_it_takes(spool, sign_in):
    bench = Bench.objects.create(shop=spool.shop, name="2", sizes=["8"])
    form = {"deed": "put_on_bench", "bench": bench.id, "key": "key-of-the-deed"}
    answer = sign_in(Role.FOREMAN).post(f"/spools/{spool.id}/deed/", form)
    assert answer.status_code == 409
    assert b"NPS 8" in answer.content


@pytest.mark.parametrize(
    "form", [{}, {"step": "nonsense"}, {"step": "cut", "key": ""}, {"step": "cut", "target": "\x00"}]
)
def test_a_broken_tap_is_no_500(spool, sign_in, form):
    answer = sign_in(Role.CUTTER).post(f"/spools/{spool.id}/step/", {"key": "key-of-a-tap"} | form)
    assert 400 <= answer.status_code < 500
    assert spool.events.count() == 1


def test_find_opens_the_one_spool_of_a_mark_and_lists_several(spool, sign_in):
    client = sign_in(Role.FOREMAN)
    assert client.get("/find/", {"q": " 214 "})["Location"] == f"/spools/{spool.id}/"
    make_spool("214", job=make_job(spool.shop))
    assert len(client.get("/find/", {"q": "214"}).context["rows"]) == 2


@pytest.mark.parametrize("text", ["", "nothing", "12+40", "%00", "'; drop table", "9" * 60, "\u202e214", "🙂"])
def test_find_takes_any_text(spool, sign_in, text):
    assert sign_in(Role.FOREMAN).get("/find/", {"q": text}).status_code in {200, 302}


@pytest.mark.parametrize(
    ("back", "goes_to"),
    [
        ("/floor/to_cut/?page=2", "/floor/to_cut/?page=2"),
        ("//elsewhere.example/", None),
        ("https://elsewhere.example/", None),
    ],
)
def test_a_tap_from_a_list_goes_back_to_the_list_and_never_elsewhere(spool, sign_in, back, goes_to):
    answer = tap(sign_in(Role.CUTTER), spool, step="cut", back=back)
    assert answer["Location"] == (goes_to or f"/spools/{spool.id}/")


def test_a_scrapped_build_is_built_again_from_its_reading(spool, sign_in):
    foreman = sign_in(Role.FOREMAN)
    foreman.post(f"/spools/{spool.id}/deed/", {"deed": "scrapped", "reason": "bent", "key": "key-of-the-scrap"})
    page = foreman.get(f"/readings/{spool.reading_id}/")
    assert b"Build it again, because" in page.content
    foreman.post(
        f"/readings/{spool.reading_id}/release/", {"key": "key-of-release", "reason": "bent by the fork truck"}
    )
    again = spool.tie_in.spools.get(live=True)
    assert (again.label, again.replaces, again.clock_start_at) == ("214 B", spool, spool.clock_start_at)
    assert again.due_at == spool.due_at


@pytest.mark.parametrize(
    ("role", "does", "asks"),
    [
        (Role.CUTTER, {"wrong_cut"}, {"held", "rushed", "put_on_bench", "rejected", "scrapped"}),
        (Role.FITTER, {"tagged"}, {"held", "rushed", "put_on_bench", "scrapped"}),
        (Role.MANAGER, {"held"}, {"rushed", "put_on_bench", "rejected", "scrapped"}),
        (Role.DRIVER, {"misfit", "tagged"}, {"held", "rushed", "put_on_bench", "rejected", "scrapped"}),
        (Role.FOREMAN, {"held", "put_on_bench", "wrong_cut", "misfit", "tagged", "scrapped"}, set()),
    ],
)
def test_each_role_sees_the_deeds_it_may_do_and_asks_for_the_others(spool, sign_in, role, does, asks):
    page = sign_in(role).get(f"/spools/{spool.id}/")
    offered = set(re.findall(r'name="deed" value="(\w+)"', page.content.decode()))
    assert offered == does | ({"asked"} if asks else set())
    assert {code for code, _ in page.context["wants"]} == asks


def test_asking_is_told_in_the_story_and_changes_nothing(spool, sign_in):
    client = sign_in(Role.CUTTER, name="Duvall")
    form = {"deed": "asked", "wants": "rushed", "reason": "crew waits", "key": "key-of-the-question"}
    assert client.post(f"/spools/{spool.id}/deed/", form).status_code == 302
    assert b"Asked the foreman to rush it by Duvall: crew waits" in client.get(f"/spools/{spool.id}/").content
    spool.refresh_from_db()
    assert not spool.rush
    assert (
        client.post(f"/spools/{spool.id}/deed/", form | {"wants": "sold", "key": "another-question"}).status_code == 422
    )


def test_a_reading_after_cutting_began_is_built_instead_by_one_press_of_the_foreman(spool, sign_in):
    foreman = sign_in(Role.FOREMAN, Role.CUTTER)
    tap(foreman, spool, step="cut")
    reading = take(spool.tie_in, replace(CLOSES, leg_a="36 3/8", closing="53 3/16"), again=True).reading
    page = foreman.get(f"/readings/{reading.id}/")
    assert "214 is still built from an older reading" in page.content.decode()
    assert "Does the steel still serve?" in page.content.decode()
    release = f"/readings/{reading.id}/release/"
    assert foreman.post(release, {"key": "key-of-release", "reason": "measured again"}).status_code == 409
    foreman.post(release, {"key": "key-of-release", "reason": "measured again", "instead": "yes"})
    new = spool.tie_in.spools.get(live=True)
    spool.refresh_from_db()
    assert (spool.the_standing.ended, new.label, new.reading) == ("superseded", "214 B", reading)
    assert (new.clock_start_at, new.due_at) == (spool.clock_start_at, spool.due_at)
    foreman.post(release, {"key": "key-of-release", "reason": "measured again", "instead": "yes"})
    assert spool.tie_in.spools.count() == 2


def test_a_spool_on_hold_offers_no_step_and_says_whose_move_it_is(spool, sign_in):
    foreman = sign_in(Role.FOREMAN, Role.CUTTER)
    assert b"Cut: done" in foreman.get(f"/spools/{spool.id}/").content
    form = {"deed": "held", "reason": "no elbow", "owner": "Ruiz", "key": "key-of-the-hold"}
    foreman.post(f"/spools/{spool.id}/deed/", form)
    page = foreman.get(f"/spools/{spool.id}/").content.decode()
    assert "Cut: done" not in page
    assert "nothing is tapped: Ruiz has the next move" in page
    assert "Let go: no elbow" in page
