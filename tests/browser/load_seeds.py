"""What a day of trucks starts with: two loads at the galvanizer, one to site, one lost spool, some ready to load."""

from datetime import timedelta

OUT = ("611", "612", "613", "614", "615", "616")  # load 1, two racks of three
LATE = ("621", "622")  # load 2, due back days ago
TO_SITE = ("631", "632", "633", "634", "635")  # load 3, on the truck to site
BACK = ("641", "642")  # in the yard, with their zinc
READY = ("651", "652")  # accepted
TAG_OF = {"611": 2347, "615": 2348, "632": 2349}


def loads_day() -> None:
    """Play the days before: everything accepted, loads 1 to 3 on their way, load 4 counted back."""
    from django.utils import timezone

    from spools.actions.bind_tag import bind_tag
    from spools.actions.count_back import count_back
    from spools.actions.load_truck import Placed, load_truck
    from spools.flow.tags import tag_number
    from spools.models import Load
    from tests.browser.floor_seeds import floor_people
    from tests.browser.seeds import jigs_of, people_of
    from tests.factories.jobs import make_job
    from tests.factories.loads import accept
    from tests.factories.people import make_shop
    from tests.factories.spools import make_spool

    at = timezone.now() - timedelta(hours=3)
    shop = make_shop()
    people = floor_people(shop)
    people_of(shop, names=("Okafor",))
    jigs_of(shop, at - timedelta(minutes=5), by="okafor")
    job = make_job(shop, number="J700")
    spools = {}
    for mark in (*OUT, *LATE, *TO_SITE, *BACK, *READY):
        spools[mark] = accept(make_spool(mark, job=job), at=at)
        if mark in TAG_OF:
            call = {"person": people["Kellan"], "key": f"seed-tag-{mark}", "at": at}
            bind_tag(spool_id=spools[mark].id, tag=tag_number(TAG_OF[mark]), **call)
    driver = {"person": people["Quist"], "at": at}

    def load(marks, key, kind="coating", racks=None):
        numbers = [spools[mark].id for mark in marks]
        placed = Placed(rack={spools[mark].id: rack for mark, rack in (racks or {}).items()})
        going_to = "Dunmere Galvanizing" if kind == "coating" else "East gallery"
        made = load_truck(kind=kind, going_to=going_to, spool_ids=numbers, key=f"seed-{key}", placed=placed, **driver)
        return made, numbers

    load(OUT, "load-1", racks={mark: "1" if mark in OUT[:3] else "2" for mark in OUT})
    late, _ = load(LATE, "load-2")
    Load.objects.filter(id=late.id).update(due_back_on=at.date() - timedelta(days=2))
    zinc, numbers = load((*TO_SITE, *BACK), "load-3")
    count_back(load_id=zinc.id, spool_ids=numbers, key="seed-back", **driver)
    load(TO_SITE, "load-4", kind="site")
