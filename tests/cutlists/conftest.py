"""A shop with a saw: spools to cut, bars in the rack, a cutter and a foreman."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import pytest

from cutlists.actions.cut_piece import cut_piece
from cutlists.actions.plan_cuts import plan_cuts
from cutlists.models import Cut, CutPlan, StockBar
from spools.flow.roles import Role
from spools.models import Job, Person, Piece, Shop, Spool
from tests.factories.jobs import make_job
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, make_spool
from tests.factories.stock import make_bars


@dataclass
class SawShop:
    """The shop of a test; marks count up from 214."""

    shop: Shop
    job: Job
    cutter: Person
    foreman: Person
    at: datetime = NOON
    marks: int = 213
    spools: list[Spool] = field(default_factory=list)

    def call(self, person: Person | None = None, **fields: Any) -> dict[str, Any]:
        """Who, with a fresh key, when."""
        return {"person": person or self.cutter, "key": make_key(), "at": self.at} | fields

    def spool(self, **fields: Any) -> Spool:
        """One more spool: legs 27 1/2 and 13 3/16, NPS 6."""
        self.marks += 1
        made = make_spool(str(self.marks), job=self.job, **fields)
        self.spools.append(made)
        return made

    def bars(self, count: int = 1, **fields: Any) -> list[StockBar]:
        """Singles of 21 ft in the rack, or what the fields say."""
        return make_bars(self.shop, count, **fields)

    def plan(self, *spools: Spool, **fields: Any) -> CutPlan:
        """One plan of these spools, or of all."""
        ids = [spool.id for spool in spools or self.spools]
        (plan,) = plan_cuts(spool_ids=ids, seconds=1, **self.call(**fields))
        return plan

    def cut(self, cut: Cut, **fields: Any):
        """Tap CUT DONE."""
        return cut_piece(cut_id=cut.id, **self.call(**fields))

    def pieces(self) -> list[Piece]:
        """All pipe, in the order it was released."""
        return list(Piece.objects.filter(spool__shop=self.shop, sawn=True).order_by("id"))


@pytest.fixture
def saw(db) -> SawShop:
    shop = make_shop()
    return SawShop(
        shop=shop,
        job=make_job(shop),
        cutter=make_person(shop, Role.CUTTER, name="Okafor"),
        foreman=make_person(shop, Role.FOREMAN, name="Ruiz"),
    )


def cuts_of(plan: CutPlan, state: str = "planned") -> list[Cut]:
    """The plan's cuts in order."""
    return list(plan.cuts.filter(state=state).order_by("bar_order", "order"))


def refused(call) -> Any:
    """Run something that must be refused; return the refusal."""
    from spools.errors import ShopError

    with pytest.raises(ShopError) as caught:
        call()
    return caught.value
