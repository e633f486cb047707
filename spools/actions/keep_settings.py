"""Change what a job or the whole shop works to; what is released already keeps the figures it was released with."""

from dataclasses import asdict, dataclass
from datetime import time
from zoneinfo import available_timezones

from geometry.tables import UnknownPipe, pipe
from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Job, Main, Person, Reading, Shop
from spools.transactions import all_or_nothing

JOB_WHO = frozenset({Role.FOREMAN, Role.MANAGER})
SHOP_WHO = frozenset({Role.MANAGER})


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFacts:
    """A job's settings."""

    name: str
    customer: str
    units: str
    graduation: str
    root_gap_mm: float
    closing_tolerance_mm: float
    coating: bool
    weld_procedure: str = ""
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MainFacts:
    """A main: its pipe, and the stations of its ends and shafts."""

    name: str
    nps: str
    schedule: str
    station_from_mm: float
    station_to_mm: float
    access_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFacts:
    """The shop's settings."""

    name: str
    time_zone: str
    cut_off: time
    kerf_64ths: int
    end_trim_64ths: int
    keep_from_in: int
    truck_lb: int
    truck_deck_in: int
    kettle_length_in: int
    kettle_width_in: int
    kettle_depth_in: int
    scale_lb: int
    zinc_days: int
    link_days: int


@all_or_nothing
def keep_job(*, by: Person, job_id: int, facts: JobFacts) -> Job:
    """Change a job's settings; its units stay once something was measured. Raises ``ShopError``."""
    job = _job(by, job_id)
    trouble = {}
    if not facts.name.strip():
        trouble["name"] = "Write the job's name."
    if facts.units != job.units and Reading.objects.filter(tie_in__job=job).exists():
        trouble["units"] = "Something is measured already: the units of this job stay as they are."
    if not 0 <= facts.root_gap_mm <= 6.35:
        trouble["root_gap"] = "A root gap lies between 0 and 1/4 in."
    if not 0.39 <= facts.closing_tolerance_mm <= 25.4:
        trouble["closing_tolerance"] = "A closing tolerance lies between 1/64 and 1 in."
    if trouble:
        raise invalid(trouble)
    for name, value in asdict(facts).items():
        setattr(job, name, value)
    job.save()
    return job


@all_or_nothing
def keep_main(*, by: Person, job_id: int, facts: MainFacts, main_id: int | None = None) -> Main:
    """Add a main to a job, or change it. Raises ``ShopError``: not_your_role, not_found, invalid."""
    job = _job(by, job_id)
    main = job.mains.filter(id=main_id).first() if main_id else Main(job=job)
    if main is None:
        raise not_found("main of that name")
    trouble = {}
    if not facts.name.strip():
        trouble["name"] = "Write what the crew calls it, such as East gallery."
    elif job.mains.filter(name=facts.name.strip()).exclude(id=main.id).exists():
        trouble["name"] = "This job has a main of that name already."
    try:
        pipe(facts.nps, facts.schedule)
    except UnknownPipe as unknown:
        trouble["nps"] = str(unknown)
    if facts.station_to_mm < facts.station_from_mm:
        trouble["station_to"] = "The main ends after it begins."
    if trouble:
        raise invalid(trouble)
    for name, value in asdict(facts).items():
        setattr(main, name, list(value) if name == "access_mm" else value)
    main.save()
    return main


@all_or_nothing
def keep_shop(*, by: Person, facts: ShopFacts) -> Shop:
    """Change the shop's settings. Raises ``ShopError``: not_your_role, invalid."""
    if not by.may(SHOP_WHO):
        raise not_your_role("The shop's settings", say_roles(SHOP_WHO))
    shop = Shop.objects.select_for_update(of=("self",)).get(id=by.the_shop_id)
    trouble = {}
    if not facts.name.strip():
        trouble["name"] = "Write the shop's name."
    if facts.time_zone not in available_timezones():
        trouble["time_zone"] = "Write the time zone like America/Chicago."
    elif facts.time_zone != shop.time_zone and Reading.objects.filter(tie_in__job__shop=shop).exists():
        trouble["time_zone"] = "Hours are counted in it already: the zone stays as it is."
    if trouble:
        raise invalid(trouble)
    for name, value in asdict(facts).items():
        setattr(shop, name, value)
    shop.save()
    return shop


def _job(by: Person, job_id: int) -> Job:
    if not by.may(JOB_WHO):
        raise not_your_role("A job's settings", say_roles(JOB_WHO))
    found = Job.objects.for_person(by).select_for_update(of=("self",)).filter(id=job_id).first()
    if found is None:
        raise not_found("job of that number")
    return found
