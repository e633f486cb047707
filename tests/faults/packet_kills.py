"""Kill the whole worker tree in mid-packet, again and again: every packet is finished, as one whole file.

    DATABASE_URL=postgres://... python -m tests.faults.packet_kills [--kills 50] [--spools 120]

Bar: after each of 50 kills every packet is finished within 60 s of the restart, one file each with every page in it, no
half file where a person could take it, and none left lying. Needs PostgreSQL and the program redis-server; makes and
drops a database of its own beside the named one, and starts a Redis of its own.
"""

import argparse
import os
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutlists.models import PaperJob
    from tests.faults.machines import WorkerTree

BAR_S = 60.0


@dataclass
class Told:
    """What the kills did."""

    kills: int = 0
    packets: int = 0
    cut_off: int = 0
    seconds: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def words(self) -> str:
        """Say it in a few lines."""
        took = sorted(self.seconds)
        return (
            f"{self.kills} kills of the whole tree, {self.packets} packets, {self.cut_off} cut off in the middle; "
            f"finished after restart: median {median(took):.1f} s, longest {took[-1]:.1f} s (bar {BAR_S:.0f} s); "
            f"{len(self.faults)} faults"
        )


def kill_again_and_again(
    worker: "WorkerTree", spool_ids: list[int], person_id: int, *, kills: int, random: Random
) -> Told:
    """Ask, kill in the middle, start again, wait, look at the files; ``kills`` times."""
    told = Told()
    worker.start()
    try:
        for number in range(kills):
            jobs = _ask(number, spool_ids, person_id, random)
            _wait_until_one_is_half_way(jobs, random)
            worker.kill()
            told.kills += 1
            told.packets += len(jobs)
            told.cut_off += _states(jobs).count("running")
            told.faults += _half_files(jobs)
            worker.start()
            told.seconds.append(_seconds_until_done(jobs))
            told.faults += _wrong(jobs, told.seconds[-1])
            print(f"kill {told.kills}: {told.seconds[-1]:.1f} s after restart, {len(told.faults)} faults", flush=True)
    finally:
        worker.kill()
    return told


def _ask(number: int, spool_ids: list[int], person_id: int, random: Random) -> list[int]:
    from cutlists.actions.ask_papers import ask_papers
    from cutlists.tasks import draw_packet
    from spools.background import nudge
    from spools.clock import now
    from spools.models import Person

    asked = []
    for at, (sheet, paper) in enumerate((("spool_sheet", "letter"), ("cut_ticket", "a4"), ("cut_ticket", "label-4x2"))):
        some = random.sample(spool_ids, len(spool_ids) * 3 // 4)
        job = ask_papers(
            sheet=sheet,
            paper=paper,
            spool_ids=some,
            person=Person.objects.get(id=person_id),
            key=f"kill-{number}-{at}",
            at=now(),
        )
        nudge(draw_packet, job.id)
        asked.append(job.id)
    return asked


def _rows(jobs: list[int]) -> "list[PaperJob]":
    from cutlists.models import PaperJob

    return list(PaperJob.objects.filter(id__in=jobs).order_by("id"))


def _states(jobs: list[int]) -> list[str]:
    return [str(job.state) for job in _rows(jobs)]


def _wait_until_one_is_half_way(jobs: list[int], random: Random) -> None:
    share = random.random()
    until = time.monotonic() + BAR_S
    while time.monotonic() < until:
        if any(job.state == "running" and job.done_count >= share * 0.8 * job.total > 0 for job in _rows(jobs)):
            time.sleep(random.uniform(0, 0.1))
            return
        time.sleep(0.01)
    raise TimeoutError(f"No packet was being drawn: {_states(jobs)}")


def _half_files(jobs: list[int]) -> list[str]:
    """Whatever is under a packet's own name is whole, even now; and only finished ones are handed out."""
    return [fault for job in _rows(jobs) if _file(job).exists() for fault in _not_whole(job)]


def _seconds_until_done(jobs: list[int]) -> float:
    began = time.monotonic()
    while time.monotonic() - began < 2 * BAR_S:
        if set(_states(jobs)) == {"done"}:
            break
        time.sleep(0.05)
    return time.monotonic() - began


def _wrong(jobs: list[int], seconds: float) -> list[str]:
    from django.conf import settings

    faults = [f"took {seconds:.1f} s"] if seconds > BAR_S else []
    rows = _rows(jobs)
    faults += [f"packet {job.id} is {job.state}: {job.trouble}" for job in rows if job.state != "done"]
    for job in rows:
        faults += [f"packet {job.id} has no file"] if not _file(job).exists() else _not_whole(job)
    names = {path.name for path in Path(settings.PAPERS_DIR).iterdir()}
    return faults + [f"left lying: {name}" for name in names if not name.endswith(".pdf")]


def _file(job: "PaperJob") -> Path:
    from django.conf import settings

    return Path(settings.PAPERS_DIR) / f"packet-{job.id}.pdf"


def _not_whole(job: "PaperJob") -> list[str]:
    from spools.models import Piece
    from tests.cutlists.sheets.pdf_reading import open_pdf

    wanted = len(job.spool_ids)
    if job.sheet == "cut_ticket":
        wanted = Piece.objects.filter(spool_id__in=job.spool_ids).count()
    try:
        pages = len(open_pdf(_file(job).read_bytes()))
    except Exception as trouble:
        return [f"packet {job.id} can't be opened: {trouble}"]
    return [] if pages == wanted else [f"packet {job.id} has {pages} pages for {wanted}"]


def main() -> None:
    """Run it by itself."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--kills", type=int, default=50)
    asked.add_argument("--spools", type=int, default=120)
    asked.add_argument("--seed", type=int, default=1)
    wanted = asked.parse_args()
    if not os.environ.get("DATABASE_URL", "").startswith("postgres"):
        sys.exit("Set DATABASE_URL to a PostgreSQL address.")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["PAPERS_DIR"] = str(folder / "papers")
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fabshop.settings")
        _run(folder, kills=wanted.kills, spools=wanted.spools, seed=wanted.seed)


def _run(folder: Path, *, kills: int, spools: int, seed: int) -> None:
    import django

    django.setup()
    from django.db import connection

    from tests.faults import machines

    before = connection.settings_dict["NAME"]
    connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
    redis = machines.OwnRedis(folder)
    redis.start()
    try:
        with machines.asking_through(redis.address):
            made, person = machines.some_spools(spools)
            worker = machines.WorkerTree(folder, redis.address)
            told = kill_again_and_again(worker, made, person.id, kills=kills, random=Random(seed))
    finally:
        redis.kill()
        connection.creation.destroy_test_db(before, verbosity=0)
    print(*told.faults, told.words(), sep="\n")
    sys.exit(bool(told.faults))


if __name__ == "__main__":
    main()
