"""Kept readings judged again from their stored numbers."""

from geometry.adjust import CheckInput
from spools.laid_out import read_laid_out
from spools.models import Reading
from spools.second_reading import Legs
from spools.solving import Judged, Understood, judge
from spools.typed_fields import read_length_mm


def judge_stored(reading: Reading) -> Judged:
    """Judge a kept reading again from its stored numbers."""
    tie_in = reading.tie_in
    units = tie_in.job.units
    understood = Understood(
        leg_a_mm=reading.leg_a_mm,
        leg_b_mm=reading.leg_b_mm,
        included_deg=reading.included_deg,
        burn_a_mm=read_length_mm(reading.burn_a_text, units),
        burn_b_mm=read_length_mm(reading.burn_b_text, units),
        closing_mm=reading.closing_mm,
        d_mm=reading.d_mm,
        e_mm=reading.e_mm,
        findings=(),
        line=read_laid_out(reading.line),
    )
    return judge(tie_in, understood, set_points=reading.set_points, ends=(reading.measured_to_a, reading.measured_to_b))


def check_input_of(reading: Reading) -> CheckInput:
    """Return a kept reading as the geometry checks it and judges its fit."""
    units = reading.tie_in.job.units
    return CheckInput(
        leg_a_mm=reading.leg_a_mm,
        leg_b_mm=reading.leg_b_mm,
        included_deg=min(reading.included_deg, 180.0),
        closing_mm=reading.closing_mm,
        mark_to_end_b_mm=reading.d_mm,
        back_mark_to_end_b_mm=reading.e_mm,
        burn_a_mm=read_length_mm(reading.burn_a_text, units),
        burn_b_mm=read_length_mm(reading.burn_b_text, units),
        set_point_a_mm=reading.set_points.set_point_a_mm,
        set_point_b_mm=reading.set_points.set_point_b_mm,
    )


def legs_of_reading(reading: Reading) -> Legs:
    """Return a kept reading as it is compared with another."""
    units = reading.tie_in.job.units
    return Legs(
        leg_a_mm=reading.leg_a_mm,
        leg_b_mm=reading.leg_b_mm,
        included_deg=reading.included_deg,
        burn_a_mm=read_length_mm(reading.burn_a_text, units),
        burn_b_mm=read_length_mm(reading.burn_b_text, units),
    )


def legs_of_understood(understood: Understood) -> Legs:
    """Return a reading just understood as it is compared with another."""
    return Legs(
        leg_a_mm=understood.leg_a_mm,
        leg_b_mm=understood.leg_b_mm,
        included_deg=understood.included_deg,
        burn_a_mm=understood.burn_a_mm,
        burn_b_mm=understood.burn_b_mm,
    )
