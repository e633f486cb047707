"""Add a job, and tie-ins to it."""

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from geometry.tables import UnknownPipe, pipe
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.marks import mark_key
from spools.models import Job, Main, Person, TieIn
from spools.tie_in_values import NewTieIn
from spools.transactions import all_or_nothing

JOB_WHO = frozenset({Role.FOREMAN, Role.MANAGER})
TIE_IN_WHO = frozenset({Role.FOREMAN, Role.FIELD})


@all_or_nothing
def add_job(*, number: str, name: str, customer: str, units: str, main_name: str, main_nps: str, person: Person) -> Job:
    """Add a job with its first main. Raises ``ShopError`` invalid where the number is taken or something is empty."""
    if not person.may(JOB_WHO):
        raise not_your_role("Add a job", say_roles(JOB_WHO))
    trouble = {
        field_name: "Fill this in."
        for field_name, text in (("number", number), ("name", name), ("main_name", main_name), ("main_nps", main_nps))
        if not text.strip()
    }
    if units not in Job.Units.values:
        trouble["units"] = "Choose inches or millimeters."
    if Job.objects.filter(shop_id=person.the_shop_id, number=number.strip()).exists():
        trouble["number"] = f"Job {number.strip()} is here already: choose another number."
    if trouble:
        raise invalid(trouble)
    graduation = "1mm" if units == Job.Units.METRIC else "1/16"
    job = Job.objects.create(
        shop_id=person.the_shop_id,
        number=number.strip(),
        name=name.strip(),
        customer=customer.strip(),
        units=units,
        graduation=graduation,
    )
    Main.objects.create(job=job, name=main_name.strip(), nps=main_nps.strip())
    return job


@all_or_nothing
def add_tie_in(*, job_id: int, main_id: int, new: NewTieIn, person: Person) -> TieIn:
    """Add a tie-in to a job.

    Raises ``ShopError``: not_your_role, not_found, and invalid for a mark that is taken, an unknown pipe, end or bend.
    """
    if not person.may(TIE_IN_WHO):
        raise not_your_role("Add a tie-in", say_roles(TIE_IN_WHO))
    main = Main.objects.select_related("job").filter(id=main_id, job_id=job_id, job__shop_id=person.the_shop_id).first()
    if main is None:
        raise not_found("main of that job")
    trouble = _trouble(main.job, new)
    if trouble:
        raise invalid(trouble)
    values = {name: getattr(new, name) for name in NewTieIn.__dataclass_fields__}
    values["mark"] = new.mark.strip()
    return TieIn.objects.create(job=main.job, main=main, mark_key=mark_key(new.mark), **values)


def _trouble(job: Job, new: NewTieIn) -> dict[str, str]:
    trouble: dict[str, str] = {}
    try:
        taken = TieIn.objects.filter(job=job, mark_key=mark_key(new.mark)).select_related("main").first()
        if taken:
            trouble["mark"] = f"{taken.mark} is already on {taken.main}: choose another mark, or open that one."
    except ShopError as refusal:
        trouble |= refusal.fields
    try:
        pipe(new.nps, new.schedule)
    except UnknownPipe as refusal:
        trouble["nps"] = str(refusal)
    preps = {end.code: end for end in END_PREPS}
    for side in ("a", "b"):
        prep, reference = getattr(new, f"end_{side}"), getattr(new, f"measured_to_{side}")
        if prep not in preps:
            trouble[f"end_{side}"] = f"Choose from {', '.join(preps)}."
        elif reference not in preps[prep].measured_to:
            accepted = ", ".join(preps[prep].measured_to)
            trouble[f"measured_to_{side}"] = f"A {prep} end is measured to {accepted}."
    if new.bend_kind not in {make_up.code for make_up in MAKE_UPS}:
        trouble["bend_kind"] = f"Choose from {', '.join(make_up.code for make_up in MAKE_UPS)}."
    if new.side not in TieIn.Side.values:
        trouble["side"] = "Choose left or right, looking up station."
    return trouble
