"""A packet under way: called off, failed and asked for again, drawn by two at once, asked for twice, kept."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from cutlists.actions.ask_papers import ask_again, ask_papers, call_off_papers
from cutlists.actions.draw_papers import MOST_FAILURES, MOST_TRIES, draw_papers, due_jobs
from cutlists.models import PaperJob
from cutlists.papers import packets
from spools.clock import now
from spools.errors import ShopError
from spools.models import Person
from tests.cutlists.sheets.pdf_reading import open_pdf
from tests.factories.spools import NOON, make_key
from tests.faults.at_once import PEOPLE, a_real_database
from tests.faults.machines import some_spools

State = PaperJob.State


class PowerCut(BaseException):
    """The worker is gone: nothing after it runs, as far as a test in one process can play that."""


def a_packet(spools: int = 5, **fields: Any) -> tuple[PaperJob, Person]:
    spool_ids, person = some_spools(spools)
    asked = {"sheet": "cut_ticket", "paper": "letter", "spool_ids": spool_ids, "key": make_key(), "at": NOON} | fields
    return ask_papers(person=person, **asked), person


def at_half(monkeypatch: pytest.MonkeyPatch, happens: Callable[[], Any], *, times: int = 1) -> None:
    """Let something happen when the first spools of a packet are on paper, the first few times."""
    packet = packets.PACKETS["cut_ticket"]
    left = [times]

    def write(*args: Any, progress: Callable[[int], None], **kw: Any) -> int:
        def told(done: int) -> None:
            if left[0]:
                left[0] -= 1
                happens()
            progress(done)

        return packet.write(*args, progress=told, **kw)

    monkeypatch.setitem(packets.PACKETS, "cut_ticket", replace(packet, write=write))


def fails() -> None:
    raise RuntimeError("the paper ran out of ink")


def files() -> list[str]:
    folder = Path(settings.PAPERS_DIR)
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def whole(job: PaperJob) -> int:
    return len(open_pdf((Path(settings.PAPERS_DIR) / f"packet-{job.id}.pdf").read_bytes()))


@pytest.mark.django_db
def test_called_off_in_the_middle_it_stops_and_leaves_no_file(monkeypatch):
    job, person = a_packet()
    at_half(monkeypatch, lambda: call_off_papers(job_id=job.id, person=person, at=NOON))
    assert not draw_papers(job.id)
    job.refresh_from_db()
    assert (job.state, files()) == (State.CANCELLED, [])
    assert due_jobs(now()) == []


@pytest.mark.django_db
def test_called_off_and_asked_for_again_it_is_drawn(monkeypatch):
    job, person = a_packet()
    at_half(monkeypatch, lambda: call_off_papers(job_id=job.id, person=person, at=NOON))
    draw_papers(job.id)
    ask_again(job_id=job.id, person=person)
    assert draw_papers(job.id)
    assert (whole(job), files()) == (15, [f"packet-{job.id}.pdf"])


@pytest.mark.django_db
def test_called_off_and_asked_for_again_while_it_is_drawn_only_the_second_drawing_counts(monkeypatch):
    job, person = a_packet()

    def again() -> None:
        call_off_papers(job_id=job.id, person=person, at=NOON)
        ask_again(job_id=job.id, person=person)
        assert draw_papers(job.id)

    at_half(monkeypatch, again)
    assert not draw_papers(job.id)
    job.refresh_from_db()
    assert (job.state, job.done_count, whole(job)) == (State.DONE, 5, 15)
    assert files() == [f"packet-{job.id}.pdf"]


@pytest.mark.django_db
def test_a_failing_packet_is_tried_a_few_times_then_says_why_and_can_be_asked_for_again(monkeypatch):
    job, person = a_packet()
    at_half(monkeypatch, fails, times=MOST_FAILURES)
    for _ in range(MOST_FAILURES):
        assert due_jobs(now()) == [job.id]
        assert not draw_papers(job.id)
    job.refresh_from_db()
    assert (job.state, files(), due_jobs(now())) == (State.FAILED, [], [])
    assert "ran out of ink" in job.trouble
    ask_again(job_id=job.id, person=person)
    assert draw_papers(job.id)
    assert whole(job) == 15


@pytest.mark.django_db
def test_what_kills_every_worker_is_given_up_and_said(monkeypatch):
    job, _ = a_packet()
    PaperJob.objects.filter(id=job.id).update(tries=MOST_TRIES)
    assert not draw_papers(job.id)
    job.refresh_from_db()
    assert (job.state, job.trouble) == (State.FAILED, f"The drawing broke off {MOST_TRIES} times.")


@pytest.mark.django_db
def test_a_dead_workers_half_file_is_swept_away_by_the_next(monkeypatch, settings):
    job, _ = a_packet()

    def dies() -> None:
        raise PowerCut

    at_half(monkeypatch, dies)
    monkeypatch.setattr(Path, "unlink", lambda *_args, **_kw: None)  # a killed process clears nothing up
    with pytest.raises(PowerCut):
        draw_papers(job.id)
    monkeypatch.undo()
    assert files() == [f"packet-{job.id}.pdf.1.part"]
    assert due_jobs(now()) == []
    PaperJob.objects.filter(id=job.id).update(leased_until=now())
    assert due_jobs(now()) == [job.id]
    assert draw_papers(job.id)
    assert files() == [f"packet-{job.id}.pdf"]


@pytest.mark.django_db
def test_a_key_that_comes_again_with_other_spools_is_refused():
    job, person = a_packet(key="one key")
    asked = {"sheet": job.sheet, "paper": job.paper, "person": person, "key": "one key", "at": NOON}
    assert ask_papers(spool_ids=job.spool_ids, **asked) == job
    with pytest.raises(ShopError) as refusal:
        ask_papers(spool_ids=job.spool_ids[:-1], **asked)
    assert refusal.value.code == "key_reused"


@pytest.mark.django_db
def test_a_packet_is_kept_and_handed_out_as_often_as_it_is_wanted():
    job, person = a_packet(2)
    draw_papers(job.id)
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    bodies = [b"".join(client.get(reverse("paper-file", args=[job.id])).streaming_content) for _ in range(2)]
    assert bodies[0] == bodies[1]
    assert len(open_pdf(bodies[0])) == 6
    assert f'href="{reverse("paper-job", args=[job.id])}"' in client.get(reverse("papers")).content.decode()


@pytest.mark.django_db
def test_a_packet_whose_file_is_gone_says_so_and_is_drawn_again():
    job, person = a_packet(1)
    draw_papers(job.id)
    job.file.unlink()
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    assert "Its file is gone." in client.get(reverse("paper-job", args=[job.id])).content.decode()
    ask_again(job_id=job.id, person=person)
    assert draw_papers(job.id)
    assert whole(job) == 3


@pytest.mark.django_db
def test_a_half_drawn_packet_is_not_handed_out():
    job, person = a_packet(1)
    draw_papers(job.id)
    PaperJob.objects.filter(id=job.id).update(state=State.RUNNING)
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(reverse("paper-file", args=[job.id])).status_code == 404


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("unguarded_after")
def test_the_same_call_from_eight_at_once_makes_one_packet_drawn_once(tmp_path):
    spool_ids, person = some_spools(3)
    asked = {"sheet": "cut_ticket", "paper": "letter", "spool_ids": spool_ids, "key": "the same", "at": NOON}
    with a_real_database(tmp_path) as floor:
        answers = floor.all_at_once([[partial(ask_papers, person=person, **asked)] for _ in range(PEOPLE)])
        assert len({job.id for (job,) in answers}) == PaperJob.objects.count() == 1
        job = PaperJob.objects.get()
        drawn = floor.all_at_once([[partial(draw_papers, job.id)] for _ in range(PEOPLE)])
        job.refresh_from_db()
        assert [done for (done,) in drawn].count(True) == 1
        assert (job.state, job.tries, whole(job), files()) == (State.DONE, 1, 9, [f"packet-{job.id}.pdf"])
