"""The foreman's page, every list, the promise, and `where is …`: a shop of 350 spools and one of 50,000, side by side.

    python -m tests.benchmarks.floor_pages                              # SQLite, two files of its own
    DATABASE_URL=postgres://... python -m tests.benchmarks.floor_pages  # two databases of its own beside that one

Two processes hold one shop each and answer in turn, so that both feel the same machine. Bars: at 50,000 each page takes
at most 1.5 times what it takes at 350; where-is under 300 ms. Ends with 1 if one is missed.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

SIZES = (350, 50_000)
ROUNDS = 15
BAR, NOTICED_MS = 1.5, 5.0  # a difference below a twentieth of a blink is the clock's, not the shop's
FIND_BAR_MS = 300.0
LISTS = ("late", "at_risk", "due", "done", "held", "rush", "to_cut", "to_groove", "to_bevel", "to_weld", "to_accept")
MORE_LISTS = ("not_assigned", "in_shop", "ready", "at_coating", "yard")
PROMISE_LISTS = ("due", "missed", "open", "at_risk", "delivered")
PAGES = {
    "foreman's page": "/floor/",
    **{f"list: {which}": f"/floor/{which}/" for which in LISTS + MORE_LISTS},
    "bench": "/benches/{bench}/",
    "benches": "/benches/",
    "jobs": "/jobs/",
    "job": "/jobs/{job}/",
    "field": "/field/",
    "loads": "/loads/",
    "load to build": "/loads/new/?kind=coating",
    "promise": "/promise/",
    **{f"promise: {which}": f"/promise/{which}/" for which in PROMISE_LISTS},
    "bench stops": "/benches/stops/",
    "saw": "/saw/",
    "papers": "/papers/",
    "tags": "/tags/",
    "stock": "/stock/",
    "notices": "/notices/",
    "set-up": "/setup/",
    "set-up: jobs": "/setup/jobs/",
}
FINDS = {
    "where is: a spool's page": "/spools/{spool}/",
    "where is: mark": "/find/?q={mark}",
    "where is: tag": "/find/?q={tag}",
    "where is: heat": "/find/?q={heat}",
    "where is: station": "/find/?q=10%2B00",
    "where is: start of a mark": "/find/?q=25-",
    "where is: nothing": "/find/?q=nowhere",
}


def one_shop(url: str, spools: int) -> None:
    """Hold one shop and answer the pages asked for on standard input, in milliseconds (the second process)."""
    os.environ |= {"DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "fabshop.settings"}
    import django
    from django.core.management import call_command
    from django.test import Client
    from django.utils import timezone

    django.setup()
    call_command("migrate", verbosity=0)
    from tests.benchmarks.a_big_shop import analyze, fill

    shop = fill(spools, at=timezone.now())
    analyze()
    client = Client()
    client.force_login(shop.person, backend="django.contrib.auth.backends.ModelBackend")
    words = {name: getattr(shop, name) for name in ("spool", "bench", "job", "mark", "tag", "heat")}
    print("ready", flush=True)
    for line in sys.stdin:
        address = line.strip().format(**words)
        began = time.perf_counter()
        answer = client.get(address, follow=True)
        took = time.perf_counter() - began
        if answer.status_code != 200:
            raise SystemExit(f"{address}: {answer.status_code}")
        print(f"{took * 1000:.2f} {len(answer.content)}", flush=True)


class Shop:
    """The first process's end of one."""

    def __init__(self, url: str, spools: int) -> None:
        command = [sys.executable, "-m", "tests.benchmarks.floor_pages", "--hold", url, str(spools)]
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def hear(self) -> str:
        """Return the next line it says."""
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        if not line:
            raise SystemExit("a shop ended early")
        return line

    def ask(self, page: str) -> tuple[float, int]:
        """Return how long a page took, ms, and how many bytes it has."""
        assert self.process.stdin is not None
        self.process.stdin.write(f"{page}\n")
        self.process.stdin.flush()
        took, size = self.hear().split()
        return float(took), int(size)

    def close(self) -> None:
        """Let it end."""
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait()


@contextmanager
def both_shops(folder: Path) -> Iterator[list[Shop]]:
    """Give both shops, filled."""
    from tests.faults.served import database_beside

    beside = os.environ.get("DATABASE_URL", "")
    with ExitStack() as stack:
        shops = []
        for size in SIZES:
            if beside.startswith("postgres"):
                url = stack.enter_context(database_beside(beside, f"of_{size}"))
            else:
                url = f"sqlite:///{folder / f'of_{size}.sqlite3'}"
            shop = Shop(url, size)
            stack.callback(shop.close)
            shop.hear()
            shops.append(shop)
        yield shops


def main(rounds: int, *, only: str) -> int:
    """Print the table."""
    missed = []
    with tempfile.TemporaryDirectory() as folder, both_shops(Path(folder)) as (small, big):
        print(f"{'page':28} {SIZES[0]:>10,} {SIZES[1]:>10,}  ratio      kB")
        wanted = [row for row in (PAGES | FINDS).items() if any(part in row[0] for part in only.split(","))]
        for name, page in wanted:
            small.ask(page), big.ask(page)
            few, many = zip(*((small.ask(page)[0], big.ask(page)[0]) for _ in range(rounds)), strict=True)
            at_few, at_many = min(few), min(many)  # the best of each: what else the machine did is left out
            ratio = at_many / at_few
            slower = ratio > BAR and at_many - at_few > NOTICED_MS
            wrong = at_many > FIND_BAR_MS if name in FINDS else slower
            missed += [name] if wrong else []
            size = big.ask(page)[1] / 1000
            print(
                f"{name:28} {at_few:7.1f} ms {at_many:7.1f} ms  {ratio:5.2f}  {size:6.0f}{'  MISSED' if wrong else ''}"
            )
    print(f"missed: {', '.join(missed) or 'none'}")
    return 1 if missed else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rounds", type=int, default=ROUNDS)
    parser.add_argument("--only", default="", help="only the pages whose names have one of these in them: promise,saw")
    parser.add_argument("--hold", nargs=2, metavar=("URL", "SPOOLS"), help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.hold:
        one_shop(asked.hold[0], int(asked.hold[1]))
    else:
        sys.exit(main(asked.rounds, only=asked.only))
