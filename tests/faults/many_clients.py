"""Many clients on the same few spools at once, over HTTP against gunicorn and PostgreSQL, on a line that loses answers.

    DATABASE_URL=postgres://... python -m tests.faults.many_clients --steps 5000

makes a database of its own beside that one, lets 32 clients tap and undo on 40 spools, loses every tenth answer and
sends it again, and judges by the clients' logs and the event table alone. Ends with 1 if there is any fault.
"""

import argparse
import os
import sys
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import count
from random import Random
from typing import Any

import psycopg

from tests.faults.judge import Row, Said, judge
from tests.faults.served import database_beside, served
from tests.faults.wire import Answer, HungUp, Line, look_bytes, request_bytes

CLIENTS, SPOOLS, STEPS, SEED = 32, 40, 5000, 7
LOST_EVERY = 10
TRIES = 40
LOOKS_FIRST = 0.6  # the others tap on what they remember, as people do
STEP_WORDS = ("cut", "grooved", "beveled", "welded", "accepted")


@dataclass(frozen=True, slots=True)
class Shop:
    """What the clients know beforehand: their tokens, and the spools with what their check dimension is."""

    tokens: tuple[str, ...]
    check_mm: dict[int, float]


@dataclass
class Client:
    """One person with a tablet; ``said`` is its log."""

    name: int
    token: str
    shop: Shop
    line: Line
    random: Random
    taps: Iterator[int]
    said: list[Said] = field(default_factory=list)
    next_step: dict[int, str] = field(default_factory=dict)
    seen: dict[int, int] = field(default_factory=dict)

    def work(self) -> None:
        """Tap until the shop has had its number of taps."""
        spools = list(self.shop.check_mm)
        for number in self.taps:
            spool = self.random.choice(spools)
            if self.random.random() < LOOKS_FIRST:
                self._look(spool)
            self._until_heard(spool, *self._tap(spool, f"c{self.name:02}-{number:06}"), lose=number % LOST_EVERY == 0)
        self.line.close()

    def _look(self, spool: int) -> None:
        answer = self._answered(look_bytes(f"/api/v1/spools/{spool}/", token=self.token))
        if answer is not None and answer.status == 200:
            found = _read(answer)
            self.next_step[spool] = found["next_step"]
            self.seen[spool] = max(event["number"] for event in found["events"] if event["code"] != "undone")

    def _tap(self, spool: int, key: str) -> tuple[str, dict[str, Any]]:
        step = self.next_step.get(spool, "cut")
        if spool in self.seen and self.random.random() < (0.2 if step in STEP_WORDS else 0.8):
            number = max(2, self.seen[spool] - self.random.choice([0, 0, 0, 1, 3]))
            return f"/api/v1/spools/{spool}/undo/", {"key": key, "number": number, "reason": "slip"}
        if step not in STEP_WORDS or self.random.random() < 0.2:
            step = self.random.choice(STEP_WORDS)
        body: dict[str, Any] = {"key": key, "step": step}
        if self.random.random() < 0.3:
            body["already"] = True
        if step == "accepted":
            body["check_mm"] = self.shop.check_mm[spool]
        return f"/api/v1/spools/{spool}/steps/", body

    def _until_heard(self, spool: int, path: str, body: dict[str, Any], *, lose: bool) -> None:
        """Send until an answer is heard; a lost one is sent again with the same key."""
        request = request_bytes(path, body, token=self.token)
        for attempt in range(TRIES):
            sent_at = time.monotonic()
            answer = self._lost(request) if lose and attempt == 0 else self._answered(request)
            heard_at = time.monotonic()
            if answer is None:
                self.said.append(Said(body["key"], spool, sent_at, heard_at, 0))
                continue
            self.said.append(Said(body["key"], spool, sent_at, heard_at, answer.status, _read(answer)))
            if answer.status == 503:
                time.sleep(0.05 + 0.2 * self.random.random())
                continue
            self._learn(spool, self.said[-1].body)
            return
        raise RuntimeError(f"no answer after {TRIES} tries")

    def _lost(self, request: bytes) -> None:
        """Hang up at once, so that the second sending may overtake the first; or hear the answer and forget it."""
        if self.random.random() < 0.5:
            self.line.begin(request)
            self.line.close()
        else:
            self._answered(request)

    def _answered(self, request: bytes) -> Answer | None:
        try:
            return self.line.send(request)
        except HungUp:
            return None

    def _learn(self, spool: int, body: dict[str, Any]) -> None:
        if "event" in body:
            self.next_step[spool] = body["next_step"]
            self.seen[spool] = body["number"]


def _read(answer: Answer) -> dict[str, Any]:
    try:
        found = answer.read()
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def run_clients(port: int, shop: Shop, *, steps: int, clients: int = CLIENTS, seed: int = SEED) -> list[Said]:
    """Let them all work at once; return their logs together."""
    numbers, lock = count(1), threading.Lock()

    def taps() -> Iterator[int]:
        while True:
            with lock:
                number = next(numbers)
            if number > steps:
                return
            yield number

    people = [
        Client(name, shop.tokens[name], shop, Line(port), Random(seed * 1000 + name), taps()) for name in range(clients)
    ]
    with ThreadPoolExecutor(clients) as pool:
        for done in [pool.submit(one.work) for one in people]:
            done.result()
    return [said for one in people for said in one.said]


def rows_of(database_url: str) -> list[Row]:
    """Read the event table, and nothing else."""
    with psycopg.connect(database_url) as db:
        found = db.execute(
            "SELECT e.id, e.spool_id, e.number, e.code, e.targets, e.key, extract(epoch FROM e.received_at)::float8,"
            " u.number FROM spools_event e LEFT JOIN spools_event u ON u.id = e.undoes_id ORDER BY e.id"
        )
        return [Row(*row[:4], tuple(row[4]), *row[5:]) for row in found]


def make_shop(*, clients: int = CLIENTS, spools: int = SPOOLS) -> Shop:
    """Release the spools and give each client a person with a token."""
    from rest_framework.authtoken.models import Token

    from spools.flow.roles import Role
    from tests.factories.people import make_person
    from tests.factories.spools import make_spool

    first = make_spool("1")
    made = [first, *(make_spool(str(number), job=first.tie_in.job) for number in range(2, spools + 1))]
    people = [make_person(first.shop, *Role) for _ in range(clients)]
    tokens = tuple(Token.objects.create(user=person).key for person in people)
    return Shop(tokens, {spool.id: spool.check_mm for spool in made})


def tell(said: Sequence[Said], rows: Sequence[Row], faults: Counter[str], seconds: float) -> None:
    """Print what happened."""
    statuses = Counter(one.status or "lost" for one in said)
    codes = Counter(row.code for row in rows)
    refusals = Counter(one.body.get("code", "first") for one in said if one.status >= 400 or one.body.get("words"))
    print(f"{len({one.key for one in said})} taps in {seconds:.0f} s, {len(said)} requests: {dict(statuses)}")
    print(f"{len(rows)} events: {dict(codes.most_common())}")
    print(f"told that somebody was first, or refused in words: {dict(refusals.most_common())}")
    print(f"faults: {dict(faults) or 'none'}")


def main() -> int:
    """Run it whole."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--steps", type=int, default=STEPS)
    parser.add_argument("--clients", type=int, default=CLIENTS)
    parser.add_argument("--seed", type=int, default=SEED)
    asked = parser.parse_args()
    with database_beside(os.environ["DATABASE_URL"], "many_clients") as url:
        os.environ |= {"DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "fabshop.settings"}
        import django
        from django.core.management import call_command

        django.setup()
        call_command("migrate", verbosity=0)
        shop = make_shop(clients=asked.clients)
        at_start = len(rows_of(url))
        with served(url) as (port, _):
            began = time.monotonic()
            said = run_clients(port, shop, steps=asked.steps, clients=asked.clients, seed=asked.seed)
            seconds = time.monotonic() - began
        rows = rows_of(url)
        faults = judge(said, rows, at_start=at_start)
        tell(said, rows, faults, seconds)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
