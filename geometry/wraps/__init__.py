"""Developed curves: the branch's cope, the main's hole, miters, and the marks on a trimmed elbow."""

from geometry.wraps.elbow_trim import ElbowTrim, TrimMark, elbow_trim_marks
from geometry.wraps.hole import Hole, HolePoint, hole_layout
from geometry.wraps.lines import Layout, Ordinate, Wrap, WrapError, girth_mm, line_angles_deg
from geometry.wraps.miter import miter_end_wrap, miter_middle_wrap
from geometry.wraps.saddle import Saddle, saddle_wrap, tip_from_main_center_mm

__all__ = [
    "ElbowTrim",
    "Hole",
    "HolePoint",
    "Layout",
    "Ordinate",
    "Saddle",
    "TrimMark",
    "Wrap",
    "WrapError",
    "elbow_trim_marks",
    "girth_mm",
    "hole_layout",
    "line_angles_deg",
    "miter_end_wrap",
    "miter_middle_wrap",
    "saddle_wrap",
    "tip_from_main_center_mm",
]
