"""Redis down or silent: the page that asks for papers answers at once, and the packet is drawn all the same."""

import time
from collections.abc import Callable
from contextlib import closing

import pytest
from django.test import Client
from django.urls import reverse

from cutlists import tasks
from cutlists.models import PaperJob
from spools.models import Person
from tests.cutlists.sheets.pdf_reading import open_pdf
from tests.factories.spools import make_key
from tests.faults import machines

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]
DRAWN_WITHIN_S = 180  # a worker that starts on a busy machine takes its time
AT_ONCE_S = 1.5  # a silent broker may cost its half second, on a busy machine


def signed_in(person: Person) -> Client:
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def ask(client: Client, spool_ids: list[int]) -> tuple[PaperJob, float]:
    """Ask on the page; return the packet and how long the answer took."""
    began = time.monotonic()
    posted = {"sheet": "cut_ticket", "paper": "letter", "spool": spool_ids, "key": make_key() * 3}
    assert client.post(reverse("paper-new"), posted).status_code == 302
    return PaperJob.objects.latest("id"), time.monotonic() - began


def quickest(client: Client, spool_ids: list[int], broker: str) -> tuple[PaperJob, float]:
    """Ask three times through a broker that nobody gave up on yet; return the last packet and the quickest answer.

    A busy machine makes one answer slow; a broker that is waited for makes all three slow.
    """
    seconds = []
    for _ in range(3):
        with machines.asking_through(broker):
            job, took = ask(client, spool_ids)
            seconds.append(took)
    return job, min(seconds)


def pages(client: Client, job: PaperJob) -> int:
    answer = client.get(reverse("paper-file", args=[job.id]))
    assert answer.status_code == 200
    return len(open_pdf(b"".join(answer.streaming_content)))


def comes_true(what: Callable[[], bool], *, within_s: float) -> bool:
    until = time.monotonic() + within_s
    while time.monotonic() < until:
        if what():
            return True
        time.sleep(0.05)
    return False


def is_done(job: PaperJob) -> bool:
    return PaperJob.objects.get(id=job.id).state == PaperJob.State.DONE


def test_nobody_listens_and_the_page_answers_at_once_and_the_sweep_draws():
    spool_ids, person = machines.some_spools(2)
    client = signed_in(person)
    nowhere = f"redis://127.0.0.1:{machines.free_port()}/0"
    job, seconds = quickest(client, spool_ids, nowhere)
    assert seconds < AT_ONCE_S
    assert b"Waits to be drawn" in client.get(reverse("paper-job", args=[job.id])).content
    with machines.asking_through(nowhere):
        assert tasks.sweep() == 3
    assert pages(client, job) == 6


def test_a_broker_that_takes_the_call_and_never_answers_holds_one_page_half_a_second_and_the_next_not_at_all():
    spool_ids, person = machines.some_spools(1)
    client = signed_in(person)
    broker = machines.SilentBroker()
    with closing(broker), machines.asking_through(broker.address):
        first, _ = ask(client, spool_ids)
        called = broker.calls()
        assert called >= 1
        second, _ = ask(client, spool_ids)
        assert broker.calls() == called
        assert tasks.sweep() == 2
        assert pages(client, first) == pages(client, second) == 3
        assert quickest(client, spool_ids, broker.address)[1] < AT_ONCE_S


def test_redis_dies_while_workers_run_and_comes_back_and_every_packet_is_drawn(tmp_path):
    if missing := machines.what_is_missing():
        pytest.skip(missing)
    spool_ids, person = machines.some_spools(4)
    client = signed_in(person)
    redis = machines.OwnRedis(tmp_path)
    worker = machines.WorkerTree(tmp_path, redis.address, **machines.QUICK)
    redis.start()
    worker.start()
    try:
        with machines.asking_through(redis.address):
            before, _ = ask(client, spool_ids)
            assert comes_true(lambda: is_done(before), within_s=DRAWN_WITHIN_S)
            redis.kill()
            during, _ = ask(client, spool_ids)
            assert comes_true(lambda: is_done(during), within_s=DRAWN_WITHIN_S)
            redis.start()
        with machines.asking_through(redis.address):
            after, _ = ask(client, spool_ids)
            assert comes_true(lambda: is_done(after), within_s=DRAWN_WITHIN_S)
    finally:
        worker.kill()
        redis.kill()
    assert [pages(client, job) for job in (before, during, after)] == [12, 12, 12]


def test_a_worker_that_starts_while_redis_is_down_draws_what_waits(tmp_path):
    if missing := machines.what_is_missing():
        pytest.skip(missing)
    spool_ids, person = machines.some_spools(2)
    client = signed_in(person)
    nowhere = f"redis://127.0.0.1:{machines.free_port()}/0"
    worker = machines.WorkerTree(tmp_path, nowhere, **machines.QUICK)
    with machines.asking_through(nowhere):
        job, _ = ask(client, spool_ids)
    worker.start()
    try:
        assert comes_true(lambda: is_done(job), within_s=DRAWN_WITHIN_S)
    finally:
        worker.kill()
    assert pages(client, job) == 6
