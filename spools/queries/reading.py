"""What the page of one reading shows."""

from dataclasses import replace

from geometry.findings import Finding
from spools.errors import not_found
from spools.models import SURVEY_JIG, Person, Reading, Spool
from spools.queries.lay_outs import newest_survey
from spools.stored_solutions import read_finding


def reading_page(reading_id: int, person: Person) -> Reading:
    """Return one reading with its tie-in. Raises ``ShopError`` not_found."""
    found = (
        Reading.objects.for_person(person)
        .select_related("tie_in__job__shop", "tie_in__main", "taken_by", "set_points__jig")
        .filter(id=reading_id)
        .first()
    )
    if found is None:
        raise not_found("reading of that number")
    return found


def findings_of(reading: Reading) -> tuple[Finding, ...]:
    """Return the findings that were stored with a reading, and those of the survey that it came from (one query)."""
    found = tuple(read_finding(value) for value in reading.findings)
    if reading.set_points.jig.serial != SURVEY_JIG:
        return found
    survey = newest_survey(reading.tie_in)
    told = [read_finding(value) for value in survey.findings] if survey else []
    # What stops a single bend stops nothing where two are built.
    return (*(replace(one, level="warning") if one.level == "error" else one for one in told), *found)


def older_build(reading: Reading) -> Spool | None:
    """Return the build of an older reading that is still live at the same tie-in."""
    found = Spool.objects.filter(tie_in_id=reading.tie_in_id, live=True).exclude(reading_id=reading.id)
    return found.select_related("shop", "tie_in__job", "tie_in__current_reading__set_points__jig").first()
