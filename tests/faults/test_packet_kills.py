"""The worker tree killed in mid-packet a few times; the bar of 50 is ``python -m tests.faults.packet_kills``."""

from random import Random

import pytest

from tests.faults import machines
from tests.faults.packet_kills import kill_again_and_again

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]


def test_every_packet_is_finished_as_one_whole_file_though_its_worker_is_killed(tmp_path):
    if missing := machines.what_is_missing():
        pytest.skip(missing)
    redis = machines.OwnRedis(tmp_path)
    redis.start()
    try:
        with machines.asking_through(redis.address):
            spool_ids, person = machines.some_spools(24)
            worker = machines.WorkerTree(tmp_path, redis.address, **machines.QUICK)
            told = kill_again_and_again(worker, spool_ids, person.id, kills=2, random=Random(7))
    finally:
        redis.kill()
    assert told.faults == []
    assert told.cut_off >= 1
    assert max(told.seconds) < 60
