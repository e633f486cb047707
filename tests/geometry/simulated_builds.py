"""Spools measured, built and offered to their joint, in full three dimensions, many at once."""

from dataclasses import dataclass

import numpy as np

from geometry.checks import CheckInput
from geometry.fit import FitInput


@dataclass(frozen=True)
class Misses:
    """What each built spool misses at end B, in the frame of end B: mm, and radians for the two turns."""

    axial: np.ndarray
    lateral: np.ndarray
    vertical: np.ndarray
    turn: np.ndarray
    turn_out: np.ndarray

    def fits(self, allowance):
        """Tell for each spool whether the joint takes it."""
        limit = np.radians(allowance.turn_deg)
        return (
            (self.axial >= -allowance.short_mm)
            & (self.axial <= allowance.long_mm)
            & (np.abs(self.lateral) <= allowance.offset_mm)
            & (np.abs(self.vertical) <= allowance.offset_mm)
            & (np.abs(self.turn) <= limit)
            & (np.abs(self.turn_out) <= limit)
        )


def turned_about_z(vectors, by):
    """Turn (n, 3) vectors by (n,) radians about z."""
    c, s = np.cos(by), np.sin(by)
    x, y, z = vectors.T
    return np.column_stack([c * x - s * y, s * x + c * y, z])


def tilted_about(vectors, axis, by):
    """Turn (n, 3) vectors by (n,) radians about (n, 3) unit axes: Rodrigues' formula."""
    c, s = np.cos(by)[:, None], np.sin(by)[:, None]
    along = (vectors * axis).sum(axis=1)[:, None]
    return vectors * c + np.cross(axis, vectors) * s + axis * along * (1 - c)


def build(request: FitInput, errors_a, errors_b, errors_included, rng) -> Misses:
    """Walk every spool from end A, with the given errors of reading (mm, radians) and random errors of the shop."""
    count, shop = len(errors_a), request.build
    a, b, t = request.measured.leg_a_mm, request.measured.leg_b_mm, request.take_off_mm
    turn = np.radians(180.0 - request.measured.included_deg)

    def normal(sigma):
        return rng.normal(0.0, sigma, count)

    weld = np.radians(shop.fit_up_turn_deg)
    to_weld = a - t + errors_a + normal(shop.cut_mm) + normal(shop.fit_up_mm)
    from_weld = b - t + errors_b + normal(shop.cut_mm) + normal(shop.fit_up_mm)
    along = np.tile([1.0, 0.0, 0.0], (count, 1))
    side = np.tile([0.0, 1.0, 0.0], (count, 1))

    def at_weld(along, side):
        """Turn the flow a little in the plane, then out of it."""
        by, out = normal(weld), normal(weld)
        up = np.cross(along, side)
        along, side = tilted_about(along, up, by), tilted_about(side, up, by)
        return tilted_about(along, -side, out), side

    place = along * to_weld[:, None]
    along, side = at_weld(along, side)
    place = place + along * t
    up = np.cross(along, side)
    made = turn - errors_included + normal(np.radians(shop.fitting_turn_deg))
    along, side = tilted_about(along, up, made), tilted_about(side, up, made)
    place = place + along * t
    along, side = at_weld(along, side)
    place = place + along * from_weld[:, None]

    u, n = np.array([np.cos(turn), np.sin(turn), 0.0]), np.array([-np.sin(turn), np.cos(turn), 0.0])
    miss = place - (np.array([a, 0.0, 0.0]) + b * u)
    return Misses(
        axial=miss @ u,
        lateral=miss @ n,
        vertical=miss[:, 2],
        turn=np.arctan2(along @ n, along @ u),
        turn_out=np.arcsin(along[:, 2]),
    )


def readings_errors(measured: CheckInput, jig_play_mm, count, rng):
    """Draw errors of reading for a tie-in without check measures: leg A, leg B in mm, included in radians."""
    leg = np.hypot(measured.sigmas.tape_mm, jig_play_mm)
    turn = np.radians(measured.sigmas.protractor_deg)
    return rng.normal(0, leg, count), rng.normal(0, leg, count), rng.normal(0, turn, count)
