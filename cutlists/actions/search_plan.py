"""A longer look for a better plan of what is not yet cut: asked for once, done by a worker, stopped at any time."""

import logging
from datetime import datetime, timedelta
from time import monotonic

from django.db import transaction
from django.db.models import F, Q

from cutlists.actions.plan_cuts import WHO
from cutlists.actions.replan import one_plan, replan
from cutlists.models import CutPlan, PlanSearch
from spools.clock import now
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing

log = logging.getLogger(__name__)
State = PlanSearch.State
LEASE = timedelta(seconds=30)
EVERY_S = 0.5
MOST_S = 600.0
MOST_TRIES = 3


@all_or_nothing
def ask_search(*, plan_id: int, person: Person, key: str, at: datetime, seconds: float = 60.0) -> PlanSearch:
    """Ask for a longer look at a plan; one at a time. Raises ``ShopError``: not_your_role, not_found, invalid."""
    if not person.may(WHO):
        raise not_your_role("Plan cuts", say_roles(WHO))
    plan = one_plan(plan_id, person)
    CutPlan.objects.select_for_update(of=("self",)).get(id=plan.id)
    earlier = PlanSearch.objects.filter(Q(key=key) | Q(state__in=[State.WAITING, State.RUNNING]), plan=plan).first()
    if earlier:
        return earlier
    if not 1 <= seconds <= MOST_S:
        raise invalid({"seconds": f"Look for 1 to {MOST_S:.0f} seconds."})
    return PlanSearch.objects.create(plan=plan, key=key, asked_by=person, asked_at=at, seconds=seconds)


@all_or_nothing
def stop_search(*, search_id: int, person: Person) -> PlanSearch:
    """Stop looking: the best that is known is kept. Raises ``ShopError``: not_your_role, not_found."""
    if not person.may(WHO):
        raise not_your_role("Plan cuts", say_roles(WHO))
    search = one_search(search_id, person)
    PlanSearch.objects.filter(id=search.id).update(stop_asked=True)
    PlanSearch.objects.filter(id=search.id, state=State.WAITING).update(
        state=State.DONE, words="stopped before it began"
    )
    search.refresh_from_db()
    return search


def one_search(search_id: int, person: Person) -> PlanSearch:
    """Return one search of the person's shop. Raises ``ShopError`` not_found."""
    found = PlanSearch.objects.select_related("plan").filter(id=search_id, plan__shop_id=person.the_shop_id).first()
    if found is None:
        raise not_found("search of that number")
    return found


def due_searches(at: datetime) -> list[int]:
    """Return the searches that nobody is doing: new ones, and those whose worker has died."""
    orphaned = Q(state=State.RUNNING, leased_until__lt=at)
    return list(PlanSearch.objects.filter(Q(state=State.WAITING) | orphaned).values_list("id", flat=True)[:20])


def run_search(search_id: int) -> bool:
    """Do one search if it is free; return whether it is done now. Safe to call any number of times."""
    tries = _take_lease(search_id)
    if tries is None:
        return False
    search = PlanSearch.objects.select_related("plan", "asked_by__shop").get(id=search_id)
    mine = PlanSearch.objects.filter(id=search_id, tries=tries, state=State.RUNNING)
    watch = _Watch(search_id, tries)
    before = search.plan.new_stock_u
    try:
        plan = replan(
            plan_id=search.plan_id,
            person=search.asked_by,
            key=f"search-{search_id}-{tries}",
            at=now(),
            seconds=search.seconds,
            progress=watch.told,
            cancelled=watch.cancelled,
        )
    except ShopError as refusal:
        return bool(mine.update(state=State.DONE, words=str(refusal)[:160], leased_until=None, spent=watch.spent))
    except Exception as trouble:
        log.exception("The search %s broke off", search_id)
        state = State.FAILED if tries >= MOST_TRIES else State.WAITING
        mine.update(state=state, words=f"{type(trouble).__name__}: {trouble}"[:160], leased_until=None)
        return False
    words = "found less new pipe" if plan.new_stock_u < before else "no less new pipe found"
    return bool(mine.update(state=State.DONE, words=words, leased_until=None, spent=watch.spent))


class _Watch:
    """Writes down how far the search is, and hears whether somebody wants it stopped."""

    def __init__(self, search_id: int, tries: int) -> None:
        self.mine = PlanSearch.objects.filter(id=search_id, tries=tries, state=State.RUNNING)
        self.began = self.asked = monotonic()
        self.stopped = False

    @property
    def spent(self) -> float:
        """Seconds since it began."""
        return monotonic() - self.began

    def told(self, best_u: int, bound_u: int) -> None:
        """Keep the best plan's new stock and the bound."""
        self.mine.update(best_u=best_u, bound_u=bound_u, spent=self.spent, leased_until=now() + LEASE)

    def cancelled(self) -> bool:
        """Look at the row now and then, and hold the lease."""
        if monotonic() - self.asked >= EVERY_S:
            self.asked = monotonic()
            there = self.mine.update(spent=self.spent, leased_until=now() + LEASE)
            self.stopped = not there or self.mine.filter(stop_asked=True).exists()
        return self.stopped


def _take_lease(search_id: int) -> int | None:
    at = now()
    free = Q(state=State.WAITING) | Q(state=State.RUNNING, leased_until__lt=at)
    with transaction.atomic():
        taken = PlanSearch.objects.filter(free, id=search_id).update(
            state=State.RUNNING, leased_until=at + LEASE, tries=F("tries") + 1
        )
        if not taken:
            return None
        tries: int = PlanSearch.objects.values_list("tries", flat=True).get(id=search_id)
        return tries
