"""What a live shop starts with: ``python -m tests.browser.seeds NAME`` in the environment of its server.

Each public function makes one beginning with the factories that all tests use. Everybody's password is ``PASSWORD``.
"""

import sys
from datetime import timedelta

PASSWORD = "twelve-forty-left"
MARKS = 210


def field_day() -> None:
    """A shop with a field hand, another one and a foreman; a job in feet and one in mm; two jigs checked today."""
    from django.utils import timezone

    from spools.models import Main
    from tests.factories.jobs import make_job, make_tie_in
    from tests.factories.people import make_shop

    shop = make_shop()
    people_of(shop)
    job = make_job(shop, number="J700")
    Main.objects.create(
        job=job, name="East gallery", nps="24", station_to_mm=4080 * 304.8, access_mm=[0, 2040 * 304.8, 4080 * 304.8]
    )
    for number in range(MARKS):
        side = "left" if number % 2 else "right"
        make_tie_in(job, str(101 + number), station_mm=304.8 * (40 + 19 * number), side=side)
    metric = make_job(shop, number="M10", units="metric", graduation="1mm")
    Main.objects.create(job=metric, name="West gallery", nps="24")
    make_tie_in(metric, "M1", station_mm=12_000.0)
    jigs_of(shop, timezone.now() - timedelta(minutes=5))


def people_of(shop, names=("Ruiz", "Okafor", "Osei")) -> None:
    """Ruiz and Okafor of the field, Osei the foreman, each with the password; or those named."""
    from spools.flow.roles import Role
    from tests.factories.people import make_person

    for name, roles in (("Ruiz", [Role.FIELD]), ("Okafor", [Role.FIELD]), ("Osei", list(Role))):
        if name not in names:
            continue
        person = make_person(shop, *roles, name=name)
        person.set_password(PASSWORD)
        person.save()


def jigs_of(shop, at, by="ruiz") -> None:
    """Jig J1 and J2, both good this morning."""
    from spools.actions.check_jig import MasterPosition, check_jig
    from tests.factories.jigs import make_set_points
    from tests.factories.spools import make_key

    hand = shop.people.get(username=by)
    for serial in ("J1", "J2"):
        points = make_set_points(shop, serial)
        metric_too = {"usual_burn": "101.6 mm"} if serial == "J2" else {}
        type(points).objects.filter(id=points.id).update(**metric_too) if metric_too else None
        true = MasterPosition(name="long", length_off_mm=0.0, included_off_deg=0.0)
        check_jig(jig_id=points.jig_id, positions=(true,), person=hand, key=make_key() + "-seed", at=at)


def floor_day() -> None:
    """The shop floor: benches, the shared tablet, spools ready to weld."""
    from tests.browser.floor_seeds import floor_day as play

    play()


def revised_day() -> None:
    """The shop floor, with old paper about."""
    from tests.browser.old_paper_seeds import revised_day as play

    play()


def exceptions_day() -> None:
    """The saw planned, the benches full: everything that can go wrong is about to."""
    from tests.browser.exception_seeds import exceptions_day as play

    play()


def loads_day() -> None:
    """Trucks on their way, one of them late, and what is ready for the next."""
    from tests.browser.load_seeds import loads_day as play

    play()


def every_page() -> None:
    """Something to show on every page."""
    from tests.browser.every_page_seeds import every_page as play

    play()


if __name__ == "__main__":
    import django

    django.setup()
    globals()[sys.argv[1]]()
