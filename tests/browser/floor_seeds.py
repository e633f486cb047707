"""What the floor starts with: benches, people with their four digits, spools cut and ready, all on the clock of now."""

from datetime import datetime, timedelta

DIGITS = {"Ruiz": "4071", "Banner": "5182", "Duvall": "6293"}
ON_BENCH_1 = ("301", "302", "303", "304")
WITHOUT_BENCH = tuple(str(number) for number in range(311, 321))
BIG = "331"


def floor_day() -> None:
    """Bench 1 with four spools ready to weld, ten of NPS 6 and one of NPS 8 without a bench."""
    from django.utils import timezone

    from spools.actions.put_on_bench import put_on_bench
    from spools.models import Bench
    from tests.factories.jobs import make_job
    from tests.factories.people import make_shop

    at = timezone.now() - timedelta(minutes=30)
    shop = make_shop()
    people = floor_people(shop)
    one = Bench.objects.create(shop=shop, name="1", sizes=["6"], operations=["welded"], set_up_nps="6")
    Bench.objects.create(shop=shop, name="2", sizes=["6", "8"], operations=["welded"], set_up_nps="8")
    Bench.objects.create(shop=shop, name="3", sizes=["6"], operations=["welded"], set_up_nps="6")
    Bench.objects.create(shop=shop, name="Groover", operations=["grooved"])
    job = make_job(shop, number="J700")
    for mark in ON_BENCH_1:
        spool = ready_to_weld(mark, job, people["Duvall"], at)
        call = {"spool_id": spool.id, "person": people["Kellan"], "key": f"seed-bench-{mark}", "at": at}
        put_on_bench(**call, bench_id=one.id)
    for mark in WITHOUT_BENCH:
        ready_to_weld(mark, job, people["Duvall"], at)
    ready_to_weld(BIG, job, people["Duvall"], at, nps="8")


def floor_people(shop) -> dict:
    """The tablet's own account, two fitters, a cutter, a foreman, a manager and a driver; all with the password."""
    from django.contrib.auth.hashers import make_password

    from spools.flow.roles import Role
    from tests.browser.seeds import PASSWORD
    from tests.factories.people import make_person

    roles = {
        "Tablet": [Role.TABLET],
        "Ruiz": [Role.FITTER],
        "Banner": [Role.FITTER],
        "Duvall": [Role.CUTTER],
        "Kellan": [Role.FOREMAN],
        "Dorn": [Role.MANAGER],
        "Quist": [Role.DRIVER],
    }
    word = make_password(PASSWORD)
    people = {}
    for name, held in roles.items():
        person = make_person(shop, *held, name=name)
        person.password, person.pin = word, make_password(DIGITS[name]) if name in DIGITS else ""
        person.save()
        people[name] = person
    return people


def ready_to_weld(mark, job, cutter, at: datetime, **fields):
    """A spool whose pieces are cut, grooved and beveled."""
    from spools.actions.record_step import record_step
    from tests.factories.jobs import make_tie_in
    from tests.factories.spools import take

    spool = take(make_tie_in(job, mark, **fields), at=at, key=f"seed-reading-{mark}").spool
    for step in ("cut", "grooved", "beveled"):
        record_step(spool_id=spool.id, step=step, person=cutter, key=f"seed-{step}-{mark}", at=at)
    return spool
