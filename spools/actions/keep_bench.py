"""Add a bench, or change what can be done at it."""

from dataclasses import dataclass

from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Bench, Person, Spool
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN, Role.MANAGER})


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchFacts:
    """A bench: its name, the steps and sizes it takes (none: any), the size it is set up for, and its limits."""

    name: str
    operations: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    set_up_nps: str = ""
    is_active: bool = True
    od_from_mm: float | None = None
    od_to_mm: float | None = None
    wall_to_mm: float | None = None


@all_or_nothing
def keep_bench(*, by: Person, facts: BenchFacts, bench_id: int | None = None) -> Bench:
    """Write a bench down, new or changed. Raises ``ShopError``: not_your_role, not_found, invalid."""
    if not by.may(WHO):
        raise not_your_role("Benches", say_roles(WHO))
    bench = _bench(by, bench_id)
    trouble = _trouble(by, bench, facts)
    if trouble:
        raise invalid(trouble)
    bench.name, bench.operations, bench.sizes = facts.name.strip(), list(facts.operations), list(facts.sizes)
    bench.set_up_nps, bench.is_active = facts.set_up_nps, facts.is_active
    bench.od_from_mm, bench.od_to_mm, bench.wall_to_mm = facts.od_from_mm, facts.od_to_mm, facts.wall_to_mm
    bench.save()
    return bench


def _bench(by: Person, bench_id: int | None) -> Bench:
    if bench_id is None:
        return Bench(shop_id=by.the_shop_id)
    found = Bench.objects.select_for_update(of=("self",)).filter(id=bench_id, shop_id=by.the_shop_id).first()
    if found is None:
        raise not_found("bench of that name")
    return found


def _trouble(by: Person, bench: Bench, facts: BenchFacts) -> dict[str, str]:
    trouble = {}
    others = Bench.objects.filter(shop_id=by.the_shop_id).exclude(id=bench.id)
    if not facts.name.strip():
        trouble["name"] = "Write what the floor calls it, such as 3 or Groover."
    elif others.filter(name__iexact=facts.name.strip()).exists():
        trouble["name"] = "There is a bench of that name already: choose another."
    if facts.set_up_nps and facts.sizes and facts.set_up_nps not in facts.sizes:
        trouble["set_up_nps"] = "It can only be set up for a size that it takes."
    if facts.od_from_mm is not None and facts.od_to_mm is not None and facts.od_from_mm > facts.od_to_mm:
        trouble["od_to"] = "The largest is smaller than the smallest: look at both again."
    here = Spool.objects.filter(bench_id=bench.id, live=True, accepted_at=None) if bench.id else Spool.objects.none()
    if not facts.is_active and here.exists():
        trouble["is_active"] = f"{here.count()} spools still stand on it: move them first."
    return trouble
