"""Measures printed wrap templates in their pictures of 300 dpi: copes, holes, miter ends and middles, every tile.

Run: python -m tests.benchmarks.wrap_bar
Bars: the ink within 0.2 mm of geometry/ along the whole curve; the test bars exact to 0.1 mm, along and up.
"""

import sys
from dataclasses import replace

from cutlists.sheets.frame import A4, LETTER
from geometry.wraps import Layout
from tests.cutlists.sheets.samples import wrap
from tests.cutlists.sheets.wrap_pixels import MAKERS, Measured, measure

CURVE_MM, BARS_MM = 0.2, 0.1


def main() -> None:
    """Print each template's figures and the worst of all."""
    every: list[Measured] = []
    for paper in (LETTER, A4):
        for name, make in MAKERS.items():
            sheet = replace(wrap(0), template=make(Layout(sheet_mm=0.1)), what=name)
            found = measure(sheet, make, paper=paper)
            every.append(found)
            print(
                f"{paper.code:7s} {name:32s} {found.pages:2d} tiles  curve {found.worst_mm:.3f} mm, "
                f"{100 * found.share:.0f} % measured, longest gap {found.longest_gap_mm:.1f} mm  "
                f"bars {max(map(abs, found.bars_off_mm)):.3f} mm"
            )
    curve, bars = max(f.worst_mm for f in every), max(abs(off) for f in every for off in f.bars_off_mm)
    places = sum(len(f.off_mm) for f in every)
    print(f"worst of {places:,} places: {curve:.3f} mm (bar {CURVE_MM}); worst test bar: {bars:.3f} mm (bar {BARS_MM})")
    sys.exit(curve > CURVE_MM or bars > BARS_MM)


if __name__ == "__main__":
    main()
