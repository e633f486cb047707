"""What a list is checked against: a job's units, mains and marks, its measured tie-ins, the shop's jigs."""

from spools.imports.readings import KnownTieIns
from spools.imports.tie_ins import KnownJob
from spools.models import Job, Reading, SetPoints, Survey
from spools.queries.pipe_specs import usual_of


def known_job(job: Job) -> KnownJob:
    """Return what a list of tie-ins is checked against (three queries)."""
    return KnownJob(
        units=job.units,
        mains={name.casefold(): number for name, number in job.mains.values_list("name", "id")},
        marks=dict(job.tie_ins.values_list("mark_key", "main__name")),
        usual=usual_of(job),
    )


def known_tie_ins(job: Job) -> KnownTieIns:
    """Return what a list of readings is checked against (three queries)."""
    points = SetPoints.objects.filter(jig__shop_id=job.shop_id, jig__locked_reason="").order_by("version")
    measured = job.tie_ins.exclude(current_reading=None).values_list("mark_key", "current_reading__taken_by__last_name")
    return KnownTieIns(
        tie_ins=tie_in_ids(job),
        measured=dict(measured),
        jigs=dict(points.values_list("jig__serial", "id")),  # the newest version comes last and stays
        zone=job.shop.zone,
    )


def tie_in_ids(job: Job) -> dict[str, int]:
    """Return a job's tie-ins by mark key."""
    return dict(job.tie_ins.values_list("mark_key", "id"))


READING_COLUMNS = (
    *("mark", "letter", "jig", "set_points", "leg_a", "leg_b", "included", "c", "d", "e", "burn_a", "burn_b"),
    *("measured_to_a", "measured_to_b", "hand", "up_mark", "leg_a_mm", "leg_b_mm", "included_deg", "closes"),
    *("taken_by", "taken_at", "received_at", "note"),
)


def reading_rows(job: Job) -> list[tuple[object, ...]]:
    """Return every reading of a job, as typed and as it counts, along the main."""
    zone = job.shop.zone
    found = Reading.objects.filter(tie_in__job=job).select_related("tie_in", "set_points__jig", "taken_by")
    return [
        (
            *(r.tie_in.mark, r.letter, r.set_points.jig.serial, r.set_points.version, r.leg_a_text, r.leg_b_text),
            *(r.included_text, r.closing_text, r.d_text, r.e_text, r.burn_a_text, r.burn_b_text, r.measured_to_a),
            *(r.measured_to_b, r.hand, r.up_mark, round(r.leg_a_mm, 3), round(r.leg_b_mm, 3), r.included_deg),
            *("yes" if r.closes else "no", r.taken_by.short_name, r.taken_at.astimezone(zone)),
            *(r.received_at.astimezone(zone), r.note),
        )
        for r in found.order_by("tie_in__main__name", "tie_in__station_mm", "tie_in_id", "revision")
    ]


SHOT_COLUMNS = ("mark", "axis", "x", "y", "z")


def shot_rows(job: Job) -> list[tuple[object, ...]]:
    """Return every survey shot of a job in mm, as it can be brought in again."""
    found = Survey.objects.filter(tie_in__job=job).select_related("tie_in").order_by("tie_in__station_mm", "id")
    return [
        (survey.tie_in.mark, axis.upper(), *point)
        for survey in found
        for axis in ("a", "b")
        for point in survey.shots[axis]
    ]
