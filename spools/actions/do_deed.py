"""The common way of the deeds beside the route: check the role, lock, know a repeated key, write one event."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from spools.errors import ShopError, invalid, not_your_role
from spools.flow.roles import say_roles
from spools.flow.steps import DEED_BY_CODE, say
from spools.ledger import News, append, lock_spool
from spools.models import Person, Spool
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, fingerprint


@all_or_nothing
def do_deed(
    *,
    code: str,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    reason: str = "",
    prepare: Callable[[Spool], dict[str, Any]] | None = None,
    as_shop: bool = False,
    even_ended: bool = False,
) -> Recorded:
    """Write one deed of ``flow.steps.DEEDS``.

    ``prepare`` looks at the locked spool, may refuse by raising, and returns further fields of the event.
    ``as_shop`` lets the shop itself act on a person's deed, such as the hold that a revised reading sets.
    ``even_ended`` is for what may still happen to a build that no longer counts.
    """
    deed = DEED_BY_CODE[code]
    if not as_shop and not person.may(deed.who):
        raise not_your_role(deed.word, say_roles(deed.who))
    reason = reason.strip()
    if deed.needs_reason and not reason:
        raise invalid({"reason": "Say why in a few words."}, "A reason is missing.")
    mark = fingerprint(code, spool_id, reason)
    spool, earlier = lock_spool(spool_id=spool_id, person=person, key=key, fingerprint=mark)
    if earlier:
        return Recorded(earlier, spool, repeated=True)
    if spool.the_standing.ended and not even_ended:
        raise ShopError("ended", f"This build was {say(spool.the_standing.ended)}.", "Work on the newest build.")
    extra = prepare(spool) if prepare else {}
    news = News(code=code, person=person, key=key, fingerprint=mark, at=at, reason=reason, **extra)
    return Recorded(append(spool, news), spool)
