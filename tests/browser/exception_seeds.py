"""What a day of exceptions starts with: a saw with its bars planned, benches with their queues, a welded spool."""

from datetime import timedelta

SAWN = ("401", "402", "403", "404", "405", "406")
ON_BENCH = ("501", "502", "503", "504", "505", "506")
WELDED = ("521", "522", "523")
WAITING = ("531", "532", "533")


def exceptions_day() -> None:
    """Six spools planned at the saw, six on bench 1, three welded by Ruiz, three without a bench."""
    from django.utils import timezone

    from cutlists.actions.plan_cuts import plan_cuts
    from spools.actions.put_on_bench import put_on_bench
    from spools.actions.record_step import record_step
    from spools.flow.roles import Role
    from spools.models import Bench
    from tests.browser.floor_seeds import floor_people, ready_to_weld
    from tests.browser.seeds import jigs_of, people_of
    from tests.factories.jobs import make_job, make_tie_in
    from tests.factories.people import make_person, make_shop
    from tests.factories.spools import take
    from tests.factories.stock import make_bars

    at = timezone.now() - timedelta(hours=1)
    shop = make_shop()
    floor = floor_people(shop)
    people_of(shop, names=("Okafor",))
    jigs_of(shop, at - timedelta(minutes=5), by="okafor")
    make_person(shop, Role.CUTTER, name="Stockhand")
    one = Bench.objects.create(shop=shop, name="1", sizes=["6"], operations=["welded"], set_up_nps="6")
    Bench.objects.create(shop=shop, name="2", sizes=["6", "8"], operations=["welded"], set_up_nps="8")
    job = make_job(shop, number="J700")
    sawn = [take(make_tie_in(job, mark), at=at, key=f"seed-reading-{mark}").spool for mark in SAWN]
    make_bars(shop, 4, heat="", rack="R1", key="seed-bars", at=at, length_mm=12 * 304.8)
    cutter = {"person": floor["Duvall"], "at": at}
    plan_cuts(spool_ids=[spool.id for spool in sawn], seconds=1, key="seed-plan", **cutter)
    for mark in (*ON_BENCH, *WELDED, *WAITING):
        spool = ready_to_weld(mark, job, floor["Duvall"], at)
        if mark in WELDED:
            call = {"person": floor["Ruiz"], "at": at + timedelta(minutes=20)}
            record_step(spool_id=spool.id, step="welded", key=f"seed-welded-{mark}", **call)
        if mark not in WAITING:
            call = {"person": floor["Kellan"], "key": f"seed-bench-{mark}", "at": at}
            put_on_bench(spool_id=spool.id, bench_id=one.id, **call)
