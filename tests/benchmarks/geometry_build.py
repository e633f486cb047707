"""Prints what a build costs against the bare formulas in the same run, and what importing geometry costs.

Run: python -m tests.benchmarks.geometry_build
Bars: a full build well under 1 ms; 100,000 two-leg cut lengths in 1 s; import of geometry.build 100 ms of processor
time, byte code kept. On a busy machine compare it with the import of the standard library that is printed beside it.
"""

import os
import subprocess
import sys
import tempfile
from math import pi, tan
from statistics import median
from time import perf_counter

from geometry.bends import BendChoice
from geometry.build import build
from geometry.cut_lengths import cut_lengths_mm
from geometry.ends import EndChoice
from geometry.overall import overall
from geometry.piece_wraps import piece_wraps
from geometry.proposals import propose
from geometry.spool import SpoolRequest
from geometry.tables import pipe

FOUR = pipe("4", "40")
LEGS = [(900.0 + k % 500, 700.0 + k % 300, 95.0 + k % 80) for k in range(100_000)]


def asked(bend: BendChoice) -> SpoolRequest:
    """Return a tie-in as the field sends it."""
    return SpoolRequest(
        pipe=FOUR,
        leg_a_mm=1023.9375,
        leg_b_mm=708.025,
        included_deg=142.0,
        bend=bend,
        end_a=EndChoice("grooved", "pipe_end"),
        end_b=EndChoice("beveled", "pipe_end"),
        root_gap_mm=2.38125,
        closing_mm=1641.475,
    )


def bare() -> tuple[float, float]:
    """Return both cut lengths by the formula alone."""
    take_off = 152.4 * tan(38.0 * pi / 360.0)
    return 1023.9375 - take_off - 2.38125, 708.025 - take_off - 2.38125


def bare_list() -> list[tuple[float, float]]:
    """Return 100,000 pairs by the formula alone."""
    return [
        (a - 152.4 * tan((180 - g) * pi / 360) - 2.4, b - 152.4 * tan((180 - g) * pi / 360) - 2.4) for a, b, g in LEGS
    ]


def microseconds(function, *args, calls: int = 300) -> float:
    """Return how long one call takes, the median."""
    times = []
    for _ in range(calls):
        start = perf_counter()
        function(*args)
        times.append(perf_counter() - start)
    return 1e6 * median(times)


STANDARD = "re, csv, dataclasses, fractions, pathlib, typing"


def import_ms(modules: str) -> float:
    """Return the processor time that importing modules takes in a new interpreter, the least of nine."""
    program = f"import time; t = time.process_time(); import {modules}; print(1e3 * (time.process_time() - t))"
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with tempfile.TemporaryDirectory() as byte_code:
        kept["PYTHONPYCACHEPREFIX"] = byte_code
        runs = [
            subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, env=kept)
            for _ in range(10)
        ]
    return min(float(run.stdout) for run in runs[1:])


def main() -> None:
    """Print the table."""
    floor = microseconds(bare, calls=2000)
    print(f"bare formula, two cut lengths            {floor:10.2f} us")
    for bend in (
        BendChoice(),
        BendChoice("miter"),
        BendChoice("miter", welds=3, bend_radius_mm=500.0),
        BendChoice("bent_pipe", bend_radius_mm=571.5),
    ):
        request = asked(bend)
        each = microseconds(build, request)
        print(f"build, {bend.kind:14} {bend.welds} welds           {each:10.1f} us   {each / floor:8.0f} x bare")
    request = asked(BendChoice())
    answer = build(request)
    print(f"every make-up proposed                   {microseconds(propose, request, calls=60):10.1f} us")
    print(f"laid out in space                        {microseconds(overall, answer, FOUR, calls=60):10.1f} us")
    print(f"its wraps and trim marks                 {microseconds(piece_wraps, answer, request, calls=60):10.1f} us")
    plain = microseconds(bare_list, calls=5)
    many = microseconds(lambda: cut_lengths_mm(LEGS, bend_radius_mm=152.4, takes_a_mm=2.4, takes_b_mm=2.4), calls=5)
    print(f"100,000 two-leg cut lengths              {many / 1e3:10.1f} ms   {many / plain:8.2f} x bare")
    print(f"import what it needs of the library      {import_ms(STANDARD):10.1f} ms")
    print(f"import geometry.build, that included     {import_ms('geometry.build'):10.1f} ms")


if __name__ == "__main__":
    main()
