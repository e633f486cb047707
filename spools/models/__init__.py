"""The shop's nouns, one file each; import them from here."""

from spools.models.events import Event
from spools.models.floor import Bench, BenchStop
from spools.models.jigs import SURVEY_JIG, Jig, JigCheck, SetPoints
from spools.models.jobs import Job, Main, TieIn
from spools.models.loads import Load, LoadLine, Signature, Weighing
from spools.models.material import Heat
from spools.models.notices import NoticeMark
from spools.models.obstacles import Obstacle
from spools.models.people import Person, Shop
from spools.models.photos import Photo
from spools.models.pipe_specs import PipeSpec
from spools.models.readings import Reading
from spools.models.shopcalendar import ClosedDay, Shift, WorkedDay
from spools.models.spools import Joint, Piece, Spool
from spools.models.surveys import Survey
from spools.models.tags import StampedTag, TagBatch
from spools.models.walks import Walk

__all__ = [
    "SURVEY_JIG",
    "Bench",
    "BenchStop",
    "ClosedDay",
    "Event",
    "Heat",
    "Jig",
    "JigCheck",
    "Job",
    "Joint",
    "Load",
    "LoadLine",
    "Main",
    "NoticeMark",
    "Obstacle",
    "Person",
    "Photo",
    "Piece",
    "PipeSpec",
    "Reading",
    "SetPoints",
    "Shift",
    "Shop",
    "Signature",
    "Spool",
    "StampedTag",
    "Survey",
    "TagBatch",
    "TieIn",
    "Walk",
    "Weighing",
    "WorkedDay",
]
