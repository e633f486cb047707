"""The counter's page without an account: one load, for as long as the shop says, every tap once."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from spools.load_links import link_path, printed_address
from spools.models import Event, Load, Signature
from tests.factories.loads import accept, make_accepted_ones, make_load

pytestmark = pytest.mark.django_db


@pytest.fixture
def load():
    one, other = make_accepted_ones("214", "215")
    return make_load(one, other, at=timezone.now())


def tap(load: Load, **fields) -> tuple[int, dict]:
    answer = Client(enforce_csrf_checks=True).post(f"{link_path(load)}tap/", {"key": "key-of-one-tap", **fields})
    return answer.status_code, answer.json()


def spools(load: Load) -> list[int]:
    return list(load.lines.order_by("id").values_list("spool_id", flat=True))


def test_the_link_shows_the_load_to_whoever_has_it_and_nothing_else_opens(load):
    page = Client().get(link_path(load))
    assert page.status_code == 200
    assert "no-store" in page["Cache-Control"]
    assert b"no tag: 214" in page.content
    assert Client().get(f"/loads/{load.id}/").status_code == 302


def test_the_printed_code_opens_the_same_page(load):
    path = printed_address(load).partition("8000")[2]
    assert Client().get(path).status_code == 200


@pytest.mark.parametrize("change", ["-1-", "-2-"])
def test_a_guessed_or_changed_code_opens_nothing(load, change):
    other = make_load(accept_another(load), key="another-load", at=timezone.now())
    stolen = link_path(load).replace(f"/{load.id}-1-", f"/{other.id}{change}")
    assert Client().get(stolen).status_code == 404
    assert Client().get("/l/12-1-AAAAAAAAAAAAAAAA/").status_code == 404


def accept_another(load):
    from tests.factories.spools import make_spool

    return accept(make_spool("216", job=load.lines.first().spool.tie_in.job))


def test_an_ended_link_says_so_clearly_and_takes_no_tap(load):
    Load.objects.update(link_until=timezone.now() - timedelta(minutes=1))
    page = Client().get(link_path(load))
    assert page.status_code == 410
    assert b"The link of load 1 has ended." in page.content
    status, body = tap(load, do="here", spool=spools(load))
    assert (status, body["state"], body["code"]) == (410, "refused", "link_ended")


def test_a_new_link_makes_the_printed_one_dead(load):
    old = link_path(load)
    load.link_version += 1
    load.save()
    assert Client().get(old).status_code == 410
    assert Client().get(link_path(load)).status_code == 200


def test_a_tap_counts_for_whoever_made_the_load_and_names_who_counted(load):
    assert tap(load, do="here", spool=spools(load), name="M. Tran") == (200, {"state": "kept", "words": "2 here"})
    event = Event.objects.filter(code="back").first()
    assert (event.person, event.details["told_by"]) == (load.made_by, "M. Tran")
    load.refresh_from_db()
    assert load.closed_at is not None


def test_the_same_tap_sent_again_counts_once(load):
    for _ in range(3):
        assert tap(load, do="here", spool=spools(load)[:1])[0] == 200
    assert Event.objects.filter(code="back").count() == 1


def test_a_spool_of_another_load_is_not_counted(load):
    other = make_load(accept_another(load), key="another-load", at=timezone.now())
    tap(load, do="here", spool=spools(other))
    assert not Event.objects.filter(code="back").exists()


def test_missing_later_damaged_and_undo(load):
    one, other = spools(load)
    assert tap(load, do="later", spool=one)[1]["words"] == "comes later"
    assert tap(load, do="damaged", spool=one, how="bare", key="key-of-damage")[0] == 200
    assert tap(load, do="missing", spool=other, key="key-of-missing")[1]["words"] == "missing"
    assert tap(load, do="undo", spool=other, key="key-of-undo")[0] == 200
    assert load.lines.get(spool_id=other).settled == ""
    assert load.lines.get(spool_id=one).settled == "back"


def test_a_signature_comes_with_the_count(load):
    strokes = "[[[0,0],[100,100]]]"
    tap(load, do="here", spool=spools(load)[:1], key="key-of-count")
    status, _ = tap(load, do="sign", signed_for="back", name="M. Tran", strokes=strokes)
    signature = Signature.objects.get()
    assert (status, signature.count, signature.of, signature.by_link) == (200, 1, 2, True)
    assert b"M. Tran" in Client().get(link_path(load)).content


@pytest.mark.parametrize("strokes", ["", "[", "[[[1e999,0],[1,1]]]", "x" * 70_000, "{}"])
def test_a_signature_that_is_none_is_refused_in_words(load, strokes):
    status, body = tap(load, do="sign", signed_for="back", name="M. Tran", strokes=strokes)
    assert (status, body["words"]) == (422, "Sign with a finger in the box, once more.")


@pytest.mark.parametrize("fields", [{"do": "burn"}, {"do": "here"}, {"do": "missing", "spool": "x"}, {"key": "k"}])
def test_nonsense_is_refused_in_words(load, fields):
    status, body = tap(load, **fields)
    assert status in {404, 422}
    assert body["state"] == "refused"


def test_the_page_costs_the_same_however_many_spools(load, django_assert_num_queries):
    with django_assert_num_queries(3):
        Client().get(link_path(load))
