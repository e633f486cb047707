"""Write the vectors that Python and the phone must answer alike, from the Python geometry.

    python -m tests.vectors.make

Run it after a change of geometry/ that changes answers, and look at the difference before it is committed.
"""

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.geometry.lengths.accepted_forms import ACCEPTED_INCHES
from tests.geometry.lengths.refused_forms import REFUSED
from tests.geometry.simulated_tie_ins import KINDS, SETS, tie_in
from tests.vectors.answers import ANSWERS

HERE = Path(__file__).parent
IN = 25.4
DEGREES = (
    *("142", "142.5", "142 1/2", "142-1/2", "142½", "142 ¼", "142°", "142 deg", "142 degrees", "142 DEG.", "142 ° "),
    *("142° 30'", "142d30m", "142° 30' 15\"", "142 deg 30 min", "142°30′15″", "0", "180", "180.0", "180 1/2", "180.1"),
    *("181", "999", "", " ", "abc", "1420", "142,5", "-5", "142 1/7", "142 1/12", "142 12/12", "142 5/6", "142° 60'"),
    *("nan", "inf", "1e2", "٣٠", "142 1/2 deg", "90", "90.0000000001", "127.5", "60", "59.75", "0.5", ".5", "45 3/4"),
)
INCLUDED = (0.25, 12, 40, 52.5, 60, 89.75, 90, 90.25, 110, 127.5, 142, 164.125, 179.5, 180)


def lengths() -> Iterator[dict[str, Any]]:
    """Yield texts in four units: forms in use, forms refused, and sixteenths as a pad writes them."""
    for text in (*ACCEPTED_INCHES, *REFUSED):
        yield {"text": text, "unit": "in"}
    for text in (
        "3.36 ft",
        "3.36",
        "1024",
        "1024 mm",
        "1.024 m",
        "102.4 cm",
        "3-4-5/16",
        "5/16",
        "40.5",
        "100 ft",
        "101 ft",
    ):
        for unit in ("ft", "mm", "m"):
            yield {"text": text, "unit": unit}
    rng = random.Random(20)
    for _ in range(60):
        feet, inches, part = rng.randrange(9), rng.randrange(12), rng.randrange(16)
        yield {"text": f"{feet}' {inches}-{part}/16\"", "unit": "in"}
        yield {"text": f"{rng.randrange(200, 3000)} mm", "unit": "in"}


def angles() -> Iterator[dict[str, Any]]:
    """Yield degrees as people write them."""
    yield from ({"text": text} for text in DEGREES)


def said() -> Iterator[dict[str, Any]]:
    """Yield included angles to be said back in words, and lengths to be written."""
    yield from ({"included_deg": float(included)} for included in INCLUDED)
    rng = random.Random(7)
    for mm in (0.0, 0.79375, 1.5875, 25.4, 304.8, 1023.9375, 304.79, 608.9, 912.3, -44.45, 0.5, 1.5, 2.5):
        yield {"mm": mm}
    yield from ({"mm": rng.uniform(0, 4000)} for _ in range(40))


def checks() -> Iterator[dict[str, Any]]:
    """Yield tie-ins with each known mistake and each set of check measures, exact and in sixteenths."""
    rng = random.Random(2214)
    for kind in KINDS:
        for taken in SETS:
            for number in range(8):
                yield _check(
                    tie_in(kind, taken, rng, sixteenths=number % 2 == 0)[0],
                    set_point_mm=rng.choice((0.0, 101.6, 127.0)),
                )
    yield from _corner_checks(rng)


def _check(read: Any, *, set_point_mm: float) -> dict[str, Any]:
    return {
        "leg_a_mm": read.leg_a_mm,
        "leg_b_mm": read.leg_b_mm,
        "included_deg": read.included_deg,
        "closing_mm": read.closing_mm,
        "d_mm": read.mark_to_end_b_mm,
        "e_mm": read.back_mark_to_end_b_mm,
        "burn_a_mm": read.burn_a_mm,
        "burn_b_mm": read.burn_b_mm,
        "set_point_a_mm": set_point_mm,
        "set_point_b_mm": set_point_mm,
    }


def _corner_checks(rng: random.Random) -> Iterator[dict[str, Any]]:
    """Yield what the simulation leaves out: nothing checked, blind legs, near 90, misread fractions, nonsense."""
    plain = {"burn_a_mm": 101.6, "burn_b_mm": 101.6, "set_point_a_mm": 101.6, "set_point_b_mm": 101.6}
    none = {"closing_mm": None, "d_mm": None, "e_mm": None}
    for a, b, included in ((914.4, 609.6, 135.0), (304.8, 609.6, 60.0), (254.0, 900.0, 75.0), (600.0, 600.0, 90.25)):
        yield plain | none | {"leg_a_mm": a, "leg_b_mm": b, "included_deg": included}
    for included in (89.0, 89.9, 90.3, 91.0, 60.0, 175.0, 179.9):
        read = {"leg_a_mm": 717.55, "leg_b_mm": 457.2, "included_deg": included}
        closing = ANSWERS["checks"](plain | none | read)["closing_computed_mm"]
        for off in (0.1, -2.5, 4.0, -6.0, 9.0, 25.4, -25.4):
            yield plain | none | read | {"closing_mm": closing + off}
    for _ in range(40):
        a = rng.randrange(16 * 14, 16 * 60) * IN / 16
        read = {"leg_a_mm": a, "leg_b_mm": 18.5 * IN, "included_deg": float(rng.randrange(62, 175))}
        right = ANSWERS["checks"](plain | none | read)["checks_computed_mm"]
        wrong = rng.choice((7, -7, 3.5)) * IN / 16
        yield plain | read | {"leg_a_mm": a + wrong, "closing_mm": right[0] + 0.1, "d_mm": right[1], "e_mm": right[2]}
        yield plain | read | {"closing_mm": right[0] + 0.1, "d_mm": right[1] + 30, "e_mm": right[2]}
    for wrong in (
        {"leg_a_mm": 0.0},
        {"leg_b_mm": -5.0},
        {"included_deg": 0.0},
        {"included_deg": 181.0},
        {"closing_mm": 0.0},
    ):
        yield plain | none | {"leg_a_mm": 700.0, "leg_b_mm": 500.0, "included_deg": 120.0} | wrong


def jigs() -> Iterator[dict[str, Any]]:
    """Yield tape readings inside and outside a jig's range."""
    rng = random.Random(5)
    usual = {"set_point_a_mm": 101.6, "set_point_b_mm": 127.0, "included_offset_deg": 0.0, "included_min_deg": 60.0}
    jig = usual | {"included_max_deg": 180.0, "leg_min_mm": 101.6, "leg_max_mm": 2438.4}
    for number in range(80):
        yield {
            "leg_a_mm": rng.choice((rng.uniform(50, 2600), 101.6, 2438.4, 10.0)),
            "leg_b_mm": rng.uniform(90, 2600),
            "included_deg": rng.choice((rng.uniform(20, 180), 60.0, 59.5, 180.0, 40.0, 120.0)),
            "burn_a_mm": rng.choice((101.6, 25.4, 50.8)),
            "burn_b_mm": 101.6,
            "jig": jig | {"included_offset_deg": rng.choice((0.0, 0.0, 0.5, -0.25)) if number % 3 else 0.0},
        }


def rooms() -> Iterator[dict[str, Any]]:
    """Yield tie-ins with pipe enough and with too little, in several make-ups."""
    rng = random.Random(11)
    for _ in range(150):
        kind = rng.choice(("trimmed_elbow", "trimmed_elbow", "whole_elbow"))
        yield {
            "nps": rng.choice(("2", "4", "6", "8", "12")),
            "schedule": "40",
            "end_a": rng.choice(("beveled", "plain", "grooved", "flanged_weld_neck", "saddle")),
            "end_b": rng.choice(("grooved", "beveled", "flanged_slip_on")),
            "bend_kind": kind,
            "radius": rng.choice(("long", "short")),
            "gap_mm": 2.38125,
            "leg_a_mm": rng.uniform(120, 900),
            "leg_b_mm": rng.uniform(120, 900),
            "included_deg": rng.choice((90.0, 135.0))
            if kind == "whole_elbow"
            else rng.choice((rng.uniform(60, 175), 75.0, 180.0)),
        }


def seconds() -> Iterator[dict[str, Any]]:
    """Yield pairs of readings of one tie-in: agreeing, and with each slip in one of the two."""
    rng = random.Random(44)
    for number in range(80):
        first = {
            "leg_a_mm": rng.uniform(350, 1500),
            "leg_b_mm": rng.uniform(350, 1500),
            "included_deg": rng.uniform(62, 170),
        }
        burns = {"burn_a_mm": 101.6, "burn_b_mm": rng.choice((101.6, 50.8))}
        second = {
            "leg_a_mm": first["leg_a_mm"] + rng.gauss(0, 2),
            "leg_b_mm": first["leg_b_mm"] + rng.gauss(0, 2),
            "included_deg": first["included_deg"] + rng.gauss(0, 0.6),
        }
        slip = number % 8
        second["leg_a_mm"] += {1: 101.6, 2: -304.8, 3: 25.4, 4: 40.0}.get(slip, 0.0)
        second["leg_b_mm"] += {3: burns["burn_b_mm"]}.get(slip, 0.0)
        if slip == 5:
            second["included_deg"] = 180.0 - second["included_deg"]
        if slip == 6:
            second["leg_a_mm"], second["leg_b_mm"] = second["leg_b_mm"], second["leg_a_mm"]
        yield {"first": first | burns, "second": second | burns}


CASES = {
    "lengths": lengths,
    "angles": angles,
    "said": said,
    "checks": checks,
    "jigs": jigs,
    "rooms": rooms,
    "seconds": seconds,
}


def main() -> None:
    """Write one file for each kind of vector."""
    for name, cases in CASES.items():
        rows = [{"given": given, "answer": ANSWERS[name](given)} for given in cases()]
        lines = ",\n".join(json.dumps(row, ensure_ascii=False) for row in rows)
        (HERE / f"{name}.json").write_text(f"[\n{lines}\n]\n", encoding="utf-8")
        print(f"{name}: {len(rows)}")


if __name__ == "__main__":
    main()
