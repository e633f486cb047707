"""What a phone takes down the shaft: open jobs, tie-ins, jigs with set points, make-ups, walks, spools to hang."""

from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db.models import Max, OuterRef, Subquery

from geometry.ends import END_PREPS, REFERENCE_WORDS
from geometry.tables import UnknownPipe, pipe
from spools.models import Job, Obstacle, Person, Reading, SetPoints, TieIn, Walk
from spools.queries.field import JigState, jigs_of
from spools.queries.hanging import hanging_of
from spools.queries.make_ups import MakeUpAsked, make_up_facts
from spools.queries.obstacles import obstacles_of
from spools.queries.walk import say_walk
from spools.say_lengths import say_station
from spools.tie_in_stamp import tie_in_stamp
from spools.typed_fields import read_length_mm

MOST_TIE_INS = 5000
WALKS_OF = timedelta(days=7)
POINTS = (
    "version",
    "set_point_a_mm",
    "set_point_b_mm",
    "usual_burn",
    "included_offset_deg",
    "included_min_deg",
    "included_max_deg",
    "leg_min_mm",
    "leg_max_mm",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TieInRow:
    """One tie-in as the phone knows it; ``first`` is the reading that is there, to compare a second one with."""

    id: int
    job: int
    mark: str
    main: str
    station_mm: float
    station: str
    side: str
    nps: str
    schedule: str
    end_a: str
    end_b: str
    measured_to_a: str
    measured_to_b: str
    note: str
    design_deg: float | None
    make_up: int | None
    stamp: str
    revision: int
    first: dict[str, Any] | None
    obstacle: dict[str, Any] | None


def book_of(person: Person, *, at: datetime) -> dict[str, Any]:
    """Return the whole book of a person's shop as plain values (eleven queries whatever its size)."""
    jobs = {job.id: job for job in Job.objects.for_person(person).filter(is_open=True)}
    make_ups: dict[MakeUpAsked, int] = {}
    obstacles = {one.tie_in_id: one for one in obstacles_of(person)}
    tie_ins = [
        asdict(_row(tie_in, jobs[tie_in.job_id], make_ups, obstacles.get(tie_in.id))) for tie_in in _tie_ins(person)
    ]
    return {
        "person": {"username": person.username, "name": person.short_name},
        "shop": person.the_shop.name,
        "jobs": {job.id: {"number": job.number, "name": job.name, "units": job.units} for job in jobs.values()},
        "jigs": [_jig(state, at) for state in jigs_of(person, at=at)],
        "ends": {prep.code: {"word": prep.word, "measured_to": prep.measured_to} for prep in END_PREPS},
        "references": REFERENCE_WORDS,
        "make_ups": [_make_up(asked) for asked in make_ups],
        "tie_ins": tie_ins,
        "hang": [asdict(one) for one in hanging_of(person)],
        "whys": dict(Obstacle.Why.choices),
        "walks": [_walk(walk) for walk in _walks(person, at)],
    }


def _tie_ins(person: Person) -> list[TieIn]:
    newest = Reading.objects.filter(tie_in=OuterRef("pk")).values("tie_in").annotate(newest=Max("revision"))
    found = TieIn.objects.for_person(person).filter(job__is_open=True).along_the_main()
    rows = found.select_related("main", "current_reading__taken_by").annotate(newest=Subquery(newest.values("newest")))
    return list(rows[:MOST_TIE_INS])


def _row(tie_in: TieIn, job: Job, make_ups: dict[MakeUpAsked, int], obstacle: Obstacle | None) -> TieInRow:
    asked = _asked(tie_in, job)
    return TieInRow(
        id=tie_in.id,
        job=job.id,
        mark=tie_in.mark,
        main=tie_in.main.name,
        station_mm=tie_in.station_mm,
        station=say_station(tie_in.station_mm, job.units),
        side=tie_in.side,
        nps=tie_in.nps,
        schedule=tie_in.schedule,
        end_a=tie_in.end_a,
        end_b=tie_in.end_b,
        measured_to_a=tie_in.measured_to_a,
        measured_to_b=tie_in.measured_to_b,
        note=tie_in.note,
        design_deg=tie_in.design_included_deg,
        make_up=None if asked is None else make_ups.setdefault(asked, len(make_ups)),
        stamp=tie_in_stamp(tie_in, job.units),
        revision=getattr(tie_in, "newest", None) or 0,
        first=_first(tie_in.current_reading),
        obstacle=_obstacle(obstacle),
    )


def _obstacle(found: Obstacle | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {"why": found.why, "note": found.note, "by": found.by.short_name, "at": found.seen_at.isoformat()}


def _first(reading: Reading | None) -> dict[str, Any] | None:
    if reading is None:
        return None
    return {
        "letter": reading.letter,
        "by": reading.taken_by.short_name,
        "at": reading.taken_at.isoformat(),
        "leg_a_mm": reading.leg_a_mm,
        "leg_b_mm": reading.leg_b_mm,
        "included_deg": reading.included_deg,
        "two_bends": reading.line is not None,
    }


def _asked(tie_in: TieIn, job: Job) -> MakeUpAsked | None:
    options = tie_in.bend_options or {}
    if set(options) - {"radius", "source"} or tie_in.end_options:
        return None  # the shop alone judges what was chosen for this one tie-in
    return MakeUpAsked(
        nps=tie_in.nps,
        schedule=tie_in.schedule,
        end_a=tie_in.end_a,
        end_b=tie_in.end_b,
        bend_kind=tie_in.bend_kind,
        radius=options.get("radius", "long"),
        source=options.get("source"),
        gap_mm=job.root_gap_mm,
    )


def _make_up(asked: MakeUpAsked) -> dict[str, Any]:
    """Return what the phone judges room by (nothing where it can't) and draws by: the pipe's outside diameter."""
    try:
        od_mm = pipe(asked.nps, asked.schedule).od_mm
    except UnknownPipe:
        od_mm = None
    return {"od_mm": od_mm, "judged": make_up_facts(asked)}


def _jig(state: JigState, at: datetime) -> dict[str, Any]:
    points: SetPoints = state.set_points
    zone = state.jig.shop.zone
    last = state.last_check
    return {name: getattr(points, name) for name in POINTS} | {
        "serial": state.jig.serial,
        "locked": state.jig.locked_reason,
        "usual_burn_mm": {units: read_length_mm(points.usual_burn, units) for units in Job.Units.values},
        "checked_at": last.at.isoformat() if last else None,
        "checked_today": bool(last and last.at.astimezone(zone).date() == at.astimezone(zone).date()),
    }


def _walks(person: Person, at: datetime) -> list[Walk]:
    recent = Walk.objects.for_person(person).filter(planned_at__gte=at - WALKS_OF, main__job__is_open=True)
    return list(recent.select_related("main__job", "planned_by")[:10])


def _walk(walk: Walk) -> dict[str, Any]:
    return {
        "id": walk.id,
        "words": f"{walk.main}, {walk.get_what_display()}, by {walk.planned_by}",
        "at": walk.planned_at.isoformat(),
        "shifts": [shift | {"walk_words": say_walk(shift["walk_mm"], walk.main.job.units)} for shift in walk.shifts],
    }
