"""Put a spool on a bench, or back to the spools without one."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.errors import ShopError, not_found
from spools.models import Bench, Person, Spool
from spools.recorded import Recorded


def put_on_bench(*, spool_id: int, bench_id: int, person: Person, key: str, at: datetime) -> Recorded:
    """Put a spool on a bench that is up and takes its size."""

    def prepare(spool: Spool) -> dict[str, Any]:
        bench = Bench.objects.filter(shop_id=person.the_shop_id, id=bench_id, is_active=True).first()
        if bench is None:
            raise not_found("bench of that name")
        if bench.down_since:
            raise ShopError(
                "bench_down",
                f"{bench.heading} is down: {bench.down_reason}.",
                "Choose another bench.",
            )
        why = bench.takes.refusal(spool.nps, spool.schedule)
        if why:
            raise ShopError("bench_size", f"{bench.heading} {why}.", "Choose another bench.")
        return {"bench_id": bench_id}

    return do_deed(code="put_on_bench", spool_id=spool_id, person=person, key=key, at=at, prepare=prepare)


def take_off_bench(*, spool_id: int, person: Person, key: str, at: datetime) -> Recorded:
    """Take a spool off its bench."""
    return do_deed(code="taken_off_bench", spool_id=spool_id, person=person, key=key, at=at)
