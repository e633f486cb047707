"""A photo from the counter's page: of a line that was counted, known by its content, small, few, and kept once."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from spools.actions import keep_load_photo
from spools.actions.count_back import report_damaged
from spools.load_links import link_path
from spools.models import Load, Photo
from tests.factories.loads import everybody_of, make_accepted_ones, make_load
from tests.factories.spools import make_spool

pytestmark = pytest.mark.django_db
JPEG = b"\xff\xd8\xff" + bytes(200)


@pytest.fixture
def load():
    return make_load(*make_accepted_ones("214", "215"), at=timezone.now())


@pytest.fixture
def spool(load):
    spool = load.lines.order_by("id").first().spool
    call = {"person": everybody_of(spool), "key": "key-of-damage", "at": timezone.now()}
    report_damaged(load_id=load.id, spool_id=spool.id, how="bent", **call)
    return spool


def send(load: Load, spool, content: bytes = JPEG, **fields) -> tuple[int, dict]:
    form = {"key": "key-of-a-photo", "spool": spool.id, "size": len(content)} | fields
    form["photo"] = SimpleUploadedFile("../../a.jpg", content)
    answer = Client(enforce_csrf_checks=True).post(f"{link_path(load)}photo/", form)
    return answer.status_code, answer.json()


def test_it_is_kept_once_with_the_damage_it_shows(load, spool):
    assert [send(load, spool)[0] for _ in range(2)] == [200, 200]
    (photo,) = Photo.objects.all()
    assert (photo.event.code, photo.by, photo.path.read_bytes()) == ("damaged", load.made_by, JPEG)


def test_a_key_with_another_photo_is_refused(load, spool):
    send(load, spool)
    assert send(load, spool, JPEG + b"more")[1]["code"] == "key_reused"


@pytest.mark.parametrize("content", [b"<svg onload=alert(1)>" + bytes(200), b"%PDF-1.7" + bytes(200), b"\xff\xd8\xff"])
def test_what_is_no_photo_by_its_content_is_refused(load, spool, content):
    status, body = send(load, spool, content)
    assert (status, body["state"]) == (422, "refused")
    assert not Photo.objects.exists()


def test_one_that_arrived_cut_off_is_refused(load, spool):
    assert send(load, spool, size=len(JPEG) + 1)[1]["words"].startswith("203 of 204 bytes arrived")


@pytest.mark.parametrize("more", [0, 100_000])
def test_one_that_is_too_large_is_refused_in_words(load, spool, more):
    status, body = send(load, spool, JPEG + bytes(keep_load_photo.MOST_BYTES + more))
    assert (status, body["words"]) == (422, "A photo has at most 1.5 MB here.")


def test_a_spool_takes_four_and_a_load_forty(load, spool, monkeypatch):
    codes = [send(load, spool, JPEG + bytes([n]), key=f"key-of-photo-{n}")[0] for n in range(5)]
    assert codes == [200, 200, 200, 200, 409]
    monkeypatch.setattr(keep_load_photo, "MOST_OF_SPOOL", 99)
    monkeypatch.setattr(keep_load_photo, "MOST_OF_LOAD", 4)
    assert send(load, spool, key="key-of-photo-9")[1]["code"] == "too_many"


def test_a_line_that_nobody_counted_and_a_spool_of_another_load_take_none(load, spool):
    other = load.lines.exclude(spool=spool).get().spool
    assert send(load, other)[0] == 404
    assert send(load, make_spool("900", job=spool.tie_in.job))[0] == 404


def test_a_link_that_has_ended_takes_none(load, spool):
    Load.objects.filter(id=load.id).update(link_until=timezone.now() - timedelta(hours=1))
    assert send(load, spool)[1]["state"] == "refused"
    assert not Photo.objects.exists()
