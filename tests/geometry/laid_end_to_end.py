"""Lay a spool's pieces and gaps end to end with rotation matrices: a second method that knows nothing of the walk."""

import numpy as np


def about_x(degrees):
    """Return the rotation about the flow."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[1, 0, 0], [0, c, -s], [0, s, c]])


def about_z(degrees):
    """Return the rotation about the bend's axis."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


class Shop:
    """A fitter who lays piece after piece: where he is, which way he looks, and the twists still to come.

    ``turning`` is how many turning pieces or joints each bend has; the bend's twist comes before its first.
    """

    def __init__(self, *, twists=(), turning=()):
        self.at, self.way = np.zeros(3), np.eye(3)
        self.due = []
        for twist, count in zip((0.0, *twists), turning, strict=True):
            self.due += [twist] + [0.0] * (count - 1)

    def go(self, length):
        """Go straight on."""
        self.at = self.at + self.way @ np.array([length, 0, 0])

    def roll_if_due(self):
        """Roll the next bend about the pipe."""
        if self.due:
            self.way = self.way @ about_x(self.due.pop(0))

    def corner(self, degrees):
        """Turn on the spot."""
        self.roll_if_due()
        self.way = self.way @ about_z(degrees)

    def arc(self, radius, degrees):
        """Follow an arc."""
        self.roll_if_due()
        turn = np.radians(degrees)
        self.at = self.at + self.way @ np.array([radius * np.sin(turn), radius * (1 - np.cos(turn)), 0])
        self.way = self.way @ about_z(degrees)

    def lay(self, piece):
        """Lay one piece."""
        if piece.kind == "pipe":
            self.go(piece.cut_length_mm)
        elif piece.kind == "elbow" and piece.center_to_end_mm:
            self.go(piece.center_to_end_mm)
            self.corner(piece.turn_deg)
            self.go(piece.center_to_end_mm)
        elif piece.kind == "elbow":
            self.arc(piece.bend_radius_mm, piece.turn_deg)
        else:
            self.bend_pipe(piece)

    def bend_pipe(self, piece):
        """Follow a bent pipe by its own marks."""
        done = 0.0
        marked = {
            name: [m.value_mm for m in piece.marks if m.name == name] for name in ("bend_start", "bend_end", "turn")
        }
        for start, end, degrees in zip(*marked.values(), strict=True):
            self.go(start - done)
            self.arc((end - start) / np.radians(degrees), degrees)
            done = end
        self.go(piece.cut_length_mm - done)

    def weld(self, joint):
        """Leave the gap, and turn where the joint turns."""
        if joint.kind == "butt":
            self.go(joint.gap_mm)
            return
        give = joint.gap_mm / 2 / np.cos(np.radians(joint.turn_deg / 2))
        self.go(give)
        self.corner(joint.turn_deg)
        self.go(give)


def laid(answer, *, turning, before_mm=0.0, after_mm=0.0):
    """Return where end B's reference comes to lie, and the way it looks, from end A's reference at the origin."""
    shop = Shop(twists=answer.twists_deg, turning=turning)
    shop.go(before_mm)
    for index, piece in enumerate(answer.pieces):
        shop.lay(piece)
        if index < len(answer.joints):
            shop.weld(answer.joints[index])
    shop.go(after_mm)
    return shop.at, shop.way


def wanted(legs, turns, twists=()):
    """Return where the last leg must end and the way it must look: legs, corners and twists only."""
    at, way = np.zeros(3), np.eye(3)
    for index, leg in enumerate(legs):
        at = at + way @ np.array([leg, 0, 0])
        if index < len(turns):
            twist = twists[index - 1] if index else 0.0
            way = way @ about_x(twist) @ about_z(turns[index])
    return at, way


def turning_of(bends):
    """Return how many turning pieces or joints each make-up has."""
    return [bend.welds if bend.kind == "miter" else 1 for bend in bends]
