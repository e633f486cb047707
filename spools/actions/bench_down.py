"""Take a bench down, or bring it back up; every stop is kept, so that the hours lost can be told."""

from datetime import datetime

from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Bench, BenchStop, Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN})


@all_or_nothing
def take_bench_down(
    *, bench_id: int, person: Person, at: datetime, reason: str, back_at: datetime | None = None
) -> Bench:
    """Mark a bench as down with its reason; its queue stays until it is moved. Told again, it mends what was told.

    Raises ``ShopError``: not_your_role, not_found, invalid.
    """
    bench = _bench(bench_id, person)
    reason = reason.strip()[:120]
    if not reason:
        raise invalid({"reason": "Say what is wrong with it."}, "A reason is missing.")
    if back_at is not None and back_at <= at:
        raise invalid({"back_at": "That is past: write when it is expected back."}, "That time is past.")
    bench.down_since = bench.down_since or at
    bench.down_reason, bench.back_expected_at = reason, back_at
    bench.save(update_fields=["down_since", "down_reason", "back_expected_at"])
    BenchStop.objects.update_or_create(
        bench=bench,
        up_at=None,
        defaults={"reason": reason, "back_expected_at": back_at},
        create_defaults={"reason": reason, "back_expected_at": back_at, "down_at": bench.down_since, "by": person},
    )
    return bench


@all_or_nothing
def bring_bench_up(*, bench_id: int, person: Person, at: datetime) -> Bench:
    """Mark a bench as up again; one that is up stays as it is. Raises ``ShopError``: not_your_role, not_found."""
    bench = _bench(bench_id, person)
    BenchStop.objects.filter(bench=bench, up_at=None).update(up_at=at)
    bench.down_since, bench.down_reason, bench.back_expected_at = None, "", None
    bench.save(update_fields=["down_since", "down_reason", "back_expected_at"])
    return bench


def _bench(bench_id: int, person: Person) -> Bench:
    if not person.may(WHO):
        raise not_your_role("Bench down", say_roles(WHO))
    bench = Bench.objects.select_for_update(of=("self",)).filter(id=bench_id, shop_id=person.the_shop_id).first()
    if bench is None:
        raise not_found("bench of that name")
    if not bench.is_active:
        raise ShopError(
            "not_active",
            f"{bench.heading} is not in use.",
            "Take it back into use under Set-up, Benches.",
        )
    return bench
