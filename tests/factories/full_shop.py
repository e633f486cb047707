"""A shop in which every part of every page has something to show."""

from datetime import timedelta

from django.utils import timezone

from cutlists.actions.ask_papers import ask_papers
from cutlists.actions.plan_cuts import plan_cuts
from spools.actions.count_back import report_missing
from spools.actions.hold_spool import hold_spool
from spools.actions.load_truck import load_truck
from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.actions.stamp_tags import stamp_tags
from spools.flow.roles import Role
from spools.models import Bench, Heat, Load
from spools.solving import Typed
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person
from tests.factories.spools import make_key, make_spool, take
from tests.factories.stock import make_bars

DOES_NOT_CLOSE = Typed(leg_a="36 1/8", leg_b="22 9/16", included="52.5", closing="53")


class FullShop:
    """A shop in which every part of every page has something to show."""

    def __init__(self, first) -> None:
        self.job, self.shop = first.tie_in.job, first.shop
        self.welder, self.other = make_person(self.shop, *Role), make_person(self.shop, *Role)
        self.at = timezone.now() - timedelta(hours=1)
        self.benches = [Bench.objects.create(shop=self.shop, name=str(n)) for n in (1, 2)]
        self.heat, _ = Heat.objects.get_or_create(shop=self.shop, number="7K2214")
        self.marks = iter(range(301, 1000))
        make_bars(self.shop, 3)
        stamp_tags(count=3, **self.call())
        plan_cuts(spool_ids=[first.id], seconds=1, **self.call())
        ask_papers(sheet="cut_ticket", paper="letter", spool_ids=[first.id], **self.call())

    def call(self, person=None):
        return {"person": person or self.welder, "key": make_key(), "at": self.at}

    def spool(self, *, welded: bool = False, accepted: bool = False):
        one = make_spool(str(next(self.marks)), job=self.job)
        put_on_bench(spool_id=one.id, bench_id=self.benches[0].id, **self.call())
        heats = Tap(heats=dict.fromkeys(one.the_route.sawn(), self.heat.id))
        record_step(spool_id=one.id, step="cut", tap=heats, **self.call())
        if welded or accepted:
            record_step(spool_id=one.id, step="welded", tap=Tap(already=True), **self.call())
        if accepted:
            record_step(spool_id=one.id, step="accepted", tap=Tap(check_mm=one.check_mm), **self.call(self.other))
        return one

    def one_of_each(self) -> None:
        """Waiting, held, at a bench, accepted, on a truck, missing from one, measured but not closing."""
        self.spool()
        self.spool(welded=True)
        hold_spool(spool_id=self.spool().id, reason="no elbow", **self.call())
        self.spool(accepted=True)
        out, gone = self.spool(accepted=True), self.spool(accepted=True)
        load = load_truck(kind=Load.Kind.COATING, going_to="zinc", spool_ids=[out.id, gone.id], **self.call())
        report_missing(load_id=load.id, spool_id=gone.id, reason="not in the rack", **self.call())
        take(make_tie_in(self.job, f"W{next(self.marks)}"), DOES_NOT_CLOSE, keep_anyway=True)
        make_tie_in(self.job, f"N{next(self.marks)}")
