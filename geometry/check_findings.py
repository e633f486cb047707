"""What a checked reading tells the field and the shop, in words that say what to do."""

from dataclasses import replace

from geometry.adjust import CheckInput
from geometry.agreement import agrees
from geometry.blind_spots import blind_legs, seeing_measure
from geometry.blunders import SmallestSeen, Suspect
from geometry.findings import Figure, Finding, caution, error, warning

HOW_TO_MEASURE = {
    "D": "D (from a mark 12 in from the pivot on leg A to end B)",
    "E": "E (from a mark 12 in back from end A to end B)",
}
SHALLOW_DEG = 5.0  # an error of the included angle under this should be seen (common practice, no source)


def not_checked() -> Finding:
    """Return the finding on a reading with legs and included angle only."""
    return warning(
        "no_check_measure",
        "No check measure was taken, so nothing proves A, B and the included angle. "
        "Measure C from end A to end B, from the hook. Do not cut.",
    )


def does_not_close(suspects: tuple[Suspect, ...], needs: tuple[str, ...], misclosure_mm: float | None) -> Finding:
    """Return the finding on check measures that disagree: the likely mistakes, and what would tell them apart."""
    if suspects:
        likely = " or ".join(suspect.words for suspect in suspects)
        text = f"Does not close: measure again, most likely {likely}."
    else:
        text = "Does not close, and no single known mistake explains it: measure A, B, the included angle and C again."
    if needs:
        text += f" Take {' and '.join(HOW_TO_MEASURE[name] for name in needs)} too: that tells which reading is wrong."
    figures = [] if misclosure_mm is None else [Figure("misclosure", misclosure_mm, "mm")]
    if len(suspects) == 1 and suspects[0].should_be is not None:
        unit = "deg" if suspects[0].number == "included" else "mm"
        figures.append(Figure(f"{suspects[0].number} should be", suspects[0].should_be, unit))
    return error("does_not_close", f"{text} Do not cut.", *figures)


def what_is_not_seen(measured: CheckInput, seen: tuple[SmallestSeen, ...]) -> list[Finding]:
    """Return findings on mistakes that these check measures would let through."""
    found = [_blind(measured, leg) for leg in blind_legs(measured)]
    only_c = measured.mark_to_end_b_mm is None and measured.back_mark_to_end_b_mm is None
    if measured.closing_mm is not None and only_c and abs(measured.leg_a_mm - measured.leg_b_mm) > 1.0:
        found.append(
            caution("swap_not_seen", "C is the same with the legs swapped. Tag leg A at the main, or take D as well.")
        )
    sizes = [one.size for one in seen if one.number == "included"]
    if sizes and (sizes[0] is None or sizes[0] > SHALLOW_DEG):
        found.append(
            caution(
                "included_hardly_seen",
                "The check measures hardly move with the included angle here. "
                "Lay a straightedge along leg A and measure the offset of end B from it.",
            )
        )
    return found


def sharp_or_gentle(measured: CheckInput) -> list[Finding]:
    """Return the caution on a turn near 90, where its supplement would close as well."""
    supplement_deg = 180.0 - measured.included_deg
    apart = abs(supplement_deg - measured.included_deg)
    if supplement_deg <= 0.0 or apart < measured.sigmas.protractor_deg:  # straight pipe has no supplement to read
        return []
    if not agrees(replace(measured, included_deg=supplement_deg)):
        return []
    word = "sharp (under 90 included)" if measured.included_deg < 90.0 else "gentle (over 90 included)"
    return [
        caution(
            "sharp_or_gentle",
            f"So near 90 the check can't tell the included angle from the turn. The reading says {word}: "
            "compare with the sketch.",
            Figure("included", measured.included_deg, "deg"),
            Figure("turn", 180.0 - measured.included_deg, "deg"),
        )
    ]


def over_spool_tolerance(measured: CheckInput, misclosure_mm: float | None) -> list[Finding]:
    """Return the caution where C agrees within the instruments but not within the spool's own tolerance."""
    if misclosure_mm is None or abs(misclosure_mm) <= measured.spool_tolerance_mm:
        return []
    return [
        caution(
            "over_spool_tolerance",
            "Closes as well as tape and protractor can tell, but C is off by more than the spool's tolerance. "
            "Build to the adjusted figures, or read the included angle again.",
            Figure("misclosure", misclosure_mm, "mm"),
            Figure("spool tolerance", measured.spool_tolerance_mm, "mm"),
        )
    ]


def mark_beyond_end(measured: CheckInput) -> list[Finding]:
    """Return the caution on a D or E whose mark would lie off the pipe."""
    taken = measured.mark_to_end_b_mm is not None or measured.back_mark_to_end_b_mm is not None
    if not taken or measured.leg_a_mm > measured.mark_mm:
        return []
    return [
        caution(
            "mark_beyond_end",
            "Leg A is shorter than the 12 in to the mark of D and E. Put the mark nearer, and set its distance.",
            Figure("leg A", measured.leg_a_mm, "mm"),
            Figure("mark", measured.mark_mm, "mm"),
        )
    ]


def _blind(measured: CheckInput, leg: str) -> Finding:
    measure = HOW_TO_MEASURE[seeing_measure(measured, leg)]
    return warning(
        "leg_not_seen",
        f"The check hardly moves with leg {leg} here, so it can't vouch for it. Take {measure} too.",
    )
