"""Printing against a bare canvas that draws the same strings, lines and stored QR codes, interleaved in one run.

    python -m tests.benchmarks.tickets [--count 700] [--rounds 3]

The floor is recorded from the product's own pages, then replayed on a plain reportlab canvas without any layout:
every string at its place in the same font, every line, every QR code by the product's own quick path, so that only
the layout, the numbers' wording and the frame are compared. Every round of the product starts with cold caches.
"""

import argparse
import io
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from cutlists.sheets import figures, fonts, piece_picture
from cutlists.sheets.fonts import load_fonts
from cutlists.sheets.frame import LABEL_4X2, LETTER, Paper
from cutlists.sheets.spool_sheet import write_spool_sheet
from cutlists.sheets.ticket import Ticket, write_packet
from cutlists.sheets.ticket_page import SKETCH_HEIGHT_MM
from cutlists.sheets.wrap import write_wrap
from geometry.bends.base import BendChoice
from geometry.build import SpoolRequest, build
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.shapes import Drawing
from geometry.drawing.spool_view import spool_view
from geometry.ends import EndChoice
from geometry.tables import pipe
from tests.benchmarks.bare_canvas import record, replay
from tests.cutlists.sheets import samples

CACHES = (
    fonts.printable,
    fonts.rise,
    fonts.width_mm,
    fonts.fit,
    figures.length_text,
    figures.other_length_text,
    figures.stacked,
    piece_picture.piece_picture,
    piece_picture.end_picture,
)
Writer = Callable[[Any], int]


def drawing(number: int, *, height_mm: float) -> Drawing:
    """Return the real drawing of a spool, another for each number."""
    request = SpoolRequest(
        pipe=pipe("6", "40"),
        leg_a_mm=600.0 + 17.3 * number,
        leg_b_mm=520.0 + 11.9 * number,
        included_deg=100.0 + 2.7 * number,
        bend=BendChoice(),
        end_a=EndChoice(prep="grooved", measured_to="pipe_end"),
        end_b=EndChoice(prep="beveled", measured_to="pipe_end"),
        root_gap_mm=2.38125,
    )
    drawn = spool_drawing(request, build(request), mark=str(100 + number), hand="left")
    return spool_view(drawn, width_mm=188.0, height_mm=height_mm)


def tickets(count: int) -> list[Ticket]:
    """Return tickets in threes, as the pieces of a spool come, each three with a drawing of their own.

    24 drawings are made; a title of its own makes each spool's another one, so that none is taken for a known one.
    """
    made = [drawing(number, height_mm=SKETCH_HEIGHT_MM) for number in range(24)]
    drawn = [replace(made[number % 24], title=f"Spool {number}") for number in range(count // 3 + 1)]
    return [replace(samples.ticket(seed, plain=True), sketch=drawn[seed // 3]) for seed in range(count)]


def compare(what: str, write: Writer, *, rounds: int, paper: Paper) -> None:
    """Print pages per second of both, and the ratio of each round."""
    calls = record(write)
    product, floor, size, pages = [], [], 0, 0
    for _ in range(rounds):
        start = time.process_time()
        replay(calls, io.BytesIO(), paper)
        floor.append(time.process_time() - start)
        for cache in CACHES:
            cache.cache_clear()
        out = io.BytesIO()
        start = time.process_time()
        pages = write(out)
        product.append(time.process_time() - start)
        size = len(out.getvalue())
    ratios = ", ".join(f"{f / p:.2f}" for f, p in zip(floor, product, strict=True))
    print(
        f"{what}: {pages} pages, ours {pages / min(product):.0f} a second, bare {pages / min(floor):.0f}, "
        f"ratio {min(floor) / min(product):.2f} (rounds {ratios}), {size / pages / 1000:.2f} kB a page"
    )


def memory(count: int) -> None:
    """Print how far the peak of this process grew while writing a packet to a file."""
    drawn = [drawing(number, height_mm=SKETCH_HEIGHT_MM) for number in range(4)]

    def made() -> Iterator[Ticket]:
        for seed in range(count):
            own = replace(drawn[seed // 3 % 4], title=f"Spool {seed // 3}")
            yield replace(samples.ticket(seed, plain=True), sketch=own)

    write_packet(io.BytesIO(), [samples.ticket(1)], total=1)
    Path("/proc/self/clear_refs").write_text("5")  # forget the peak of the imports and of making the drawings
    before = _peak_kb()
    with Path("/dev/null").open("wb") as out:
        write_packet(out, made(), total=count)
    after = _peak_kb()
    print(f"{count} tickets: peak {after / 1024:.1f} MB, grown by {(after - before) / 1024:.1f} MB", flush=True)


def _peak_kb() -> int:
    """Return the highest resident size since it was last forgotten (Linux)."""
    status = Path("/proc/self/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith("VmHWM")))


def main() -> None:
    """Read the command line and run."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=700)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--memory", type=int, default=0, help="only write so many tickets and print the peak")
    asked = parser.parse_args()
    load_fonts()
    if asked.memory:
        memory(asked.memory)
        return
    packet = tickets(asked.count)
    for paper in (LETTER, LABEL_4X2):
        compare(
            f"tickets, {paper.code}",
            lambda out, paper=paper: write_packet(out, packet, total=len(packet), paper=paper),
            rounds=asked.rounds,
            paper=paper,
        )
    sheet = replace(samples.spool(4), drawing=drawing(3, height_mm=80.0))
    compare("spool sheet", lambda out: write_spool_sheet(out, sheet), rounds=asked.rounds, paper=LETTER)
    compare("wrap, saddle", lambda out: write_wrap(out, samples.wrap(0)), rounds=asked.rounds, paper=LETTER)
    for count in (asked.count, 10 * asked.count):
        subprocess.run([sys.executable, "-m", "tests.benchmarks.tickets", "--memory", str(count)], check=True)


if __name__ == "__main__":
    main()
