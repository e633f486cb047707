"""The trade's tables, each row with its source and how sure it is, loaded once."""

from geometry.tables.bevels import ROOT_GAP_MM, BevelRow, RootProcess, all_bevels, bevel
from geometry.tables.elbows import ELBOW_KINDS, ElbowRow, all_elbows, elbow
from geometry.tables.flanges import WeldNeckRow, all_weld_necks, weld_neck
from geometry.tables.grooves import GrooveRow, all_grooves, groove
from geometry.tables.pipes import PipeRow, all_pipes, pipe, schedules
from geometry.tables.sizes import UnknownPipe, nominal_size, nps_inches, pipe_sizes
from geometry.tables.threads import ThreadRow, all_threads, thread

__all__ = [
    "ELBOW_KINDS",
    "ROOT_GAP_MM",
    "BevelRow",
    "ElbowRow",
    "GrooveRow",
    "PipeRow",
    "RootProcess",
    "ThreadRow",
    "UnknownPipe",
    "WeldNeckRow",
    "all_bevels",
    "all_elbows",
    "all_grooves",
    "all_pipes",
    "all_threads",
    "all_weld_necks",
    "bevel",
    "elbow",
    "groove",
    "nominal_size",
    "nps_inches",
    "pipe",
    "pipe_sizes",
    "schedules",
    "thread",
    "weld_neck",
]
