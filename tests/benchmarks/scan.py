"""A recorded scan at 32 clients on PostgreSQL, beside an authenticated POST that does nothing, in turn in one run.

    DATABASE_URL=postgres://... python -m tests.benchmarks.scan

Gunicorn as in the README; every scan is a new step on a spool of a shop of its own. Slices of both alternate, so that
both feel the same machine; the figures are medians over the slices. Bars: at least 0.40 of the throughput (goal 0.50),
CPU of the workers at most 2.5 times, p99 at most 4 times the median. Ends with 1 if one is missed.
"""

import argparse
import os
import statistics
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

from tests.faults.served import database_beside, served
from tests.faults.wire import Line, request_bytes

CLIENTS, SLICES, SLICE_S = 32, 12, 1.5
BAR, GOAL, CPU_BAR, TAIL_BAR = 0.40, 0.50, 2.5, 4.0
SPOOLS = 2500
TICKS = os.sysconf("SC_CLK_TCK")


@dataclass
class Slice:
    """What one slice gave."""

    seconds: float = 0.0
    cpu_s: float = 0.0
    times: list[float] = field(default_factory=list)
    wrong: int = 0

    @property
    def rate(self) -> float:
        """Answers a second."""
        return len(self.times) / self.seconds

    @property
    def cpu_ms(self) -> float:
        """CPU of the workers for one answer, ms."""
        return self.cpu_s * 1000 / len(self.times)

    def at(self, share: float) -> float:
        """The time within which that share of the answers came, ms."""
        ordered = sorted(self.times)
        return ordered[min(int(share * len(ordered)), len(ordered) - 1)] * 1000


def run_slice(lines: Sequence[Line], requests: Iterator[bytes], *, seconds: float, workers: Sequence[int]) -> Slice:
    """Let every client send one request after the other for a while."""
    found, lock = Slice(), threading.Lock()
    until = time.perf_counter() + seconds

    def client(line: Line) -> None:
        times, wrong = [], 0
        while time.perf_counter() < until:
            with lock:
                request = next(requests, b"")
            if not request:
                raise SystemExit("no scan left: raise SPOOLS")
            began = time.perf_counter()
            answer = line.send(request)
            times.append(time.perf_counter() - began)
            wrong += answer.status != 201
        with lock:
            found.times += times
            found.wrong += wrong

    before, began = _cpu_s(workers), time.perf_counter()
    with ThreadPoolExecutor(len(lines)) as pool:
        for done in [pool.submit(client, line) for line in lines]:
            done.result()
    found.seconds, found.cpu_s = time.perf_counter() - began, _cpu_s(workers) - before
    return found


def _workers(parent: int) -> list[int]:
    children = Path(f"/proc/{parent}/task/{parent}/children").read_text()
    return [int(pid) for pid in children.split()]


def _cpu_s(pids: Sequence[int]) -> float:
    """CPU time of some processes, s (proc(5): utime and stime are the 14th and 15th field of stat)."""
    used = 0
    for pid in pids:
        after_name = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        used += int(after_name[11]) + int(after_name[12])
    return used / TICKS


def scans(spools: Sequence[tuple[int, dict[str, list[str]]]], tokens: Sequence[str]) -> Iterator[bytes]:
    """Yield new steps: each target of a spool by itself, in the order of its route, spread over all spools."""
    keys = count()
    for part in range(max(sum(map(len, steps.values())) for _, steps in spools)):
        for spool, steps in spools:
            taps = [(step, target) for step, targets in steps.items() for target in targets]
            if part < len(taps):
                number = next(keys)
                step, target = taps[part]
                body = {"key": f"scan-{number:08}", "step": step, "targets": [target]}
                yield request_bytes(f"/api/v1/spools/{spool}/steps/", body, token=tokens[number % len(tokens)])


def nothings(tokens: Sequence[str]) -> Iterator[bytes]:
    """Yield as many requests that do nothing as anybody wants, with a body of the same size."""
    for number in count():
        body = {"key": f"idle-{number:08}", "step": "grooved", "targets": ["B.2"]}
        yield request_bytes("/api/nothing/", body, token=tokens[number % len(tokens)])


def make_shop(spools: int) -> tuple[list[tuple[int, dict[str, list[str]]]], list[str]]:
    """Fill the shop; return the spools that are not cut yet with what is to be done on each, and the tokens."""
    from django.utils import timezone
    from rest_framework.authtoken.models import Token

    from spools.flow.roles import Role
    from spools.models import Spool
    from tests.benchmarks.a_big_shop import analyze, copy_of_one
    from tests.factories.people import make_person

    shop = copy_of_one(spools, at=timezone.now())
    analyze()
    people = [make_person(shop, *Role) for _ in range(CLIENTS)]
    rows = [
        (
            spool.id,
            {
                "cut": list(spool.the_route.sawn()),
                "grooved": list(spool.the_route.ends_needing("grooved")),
                "beveled": list(spool.the_route.ends_needing("beveled")),
                "welded": [""],
            },
        )
        for spool in Spool.objects.defer("solution").order_by("id")
    ]
    return rows, [Token.objects.create(user=person).key for person in people]


def main(slices: int) -> int:
    """Print both side by side."""
    with database_beside(os.environ["DATABASE_URL"], "scan") as url:
        os.environ |= {"DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "tests.benchmarks.scan_settings"}
        import django
        from django.core.management import call_command

        django.setup()
        call_command("migrate", verbosity=0)
        spools, tokens = make_shop(SPOOLS)
        with served(url) as (port, parent):
            workers = _workers(parent)
            lines = [Line(port) for _ in range(CLIENTS)]
            kinds = {"nothing": nothings(tokens), "scan": scans(spools, tokens)}
            found: dict[str, list[Slice]] = {kind: [] for kind in kinds}
            for number in range(slices + 1):
                for kind, requests in kinds.items():
                    one = run_slice(lines, requests, seconds=SLICE_S, workers=workers)
                    if number:  # the first of each warms up
                        found[kind].append(one)
    return report(found["nothing"], found["scan"])


def report(nothing: Sequence[Slice], scan: Sequence[Slice]) -> int:
    """Print the figures; return 1 if a bar is missed."""
    for kind, slices in (("nothing", nothing), ("scan", scan)):
        rate, cpu = (statistics.median(getattr(one, name) for one in slices) for name in ("rate", "cpu_ms"))
        p50, p99 = (statistics.median(one.at(share) for one in slices) for share in (0.5, 0.99))
        print(f"{kind:8} {rate:7.0f} a second, {p50:6.1f} ms, p99 {p99:6.1f} ms, CPU {cpu:5.2f} ms")
    pairs = list(zip(nothing, scan, strict=True))
    share = statistics.median(two.rate / one.rate for one, two in pairs)
    cpu = statistics.median(two.cpu_ms / one.cpu_ms for one, two in pairs)
    tail = statistics.median(two.at(0.99) / two.at(0.5) for _, two in pairs)
    wrong = sum(one.wrong for one in (*nothing, *scan))
    print(
        f"scan / nothing: {share:.2f} of the throughput (bar {BAR}, goal {GOAL}), "
        f"{cpu:.2f} times the CPU (bar {CPU_BAR})"
    )
    print(f"p99 / median: {tail:.1f} (bar {TAIL_BAR}); answers that were not 201: {wrong}")
    return 1 if share < BAR or cpu > CPU_BAR or tail > TAIL_BAR or wrong else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--slices", type=int, default=SLICES)
    sys.exit(main(parser.parse_args().slices))
