"""Bind a stamped steel tag to a spool."""

from datetime import datetime, timedelta
from typing import Any

from django.db.models import Q, QuerySet

from spools.actions.do_deed import do_deed
from spools.errors import ShopError, invalid
from spools.flow.tags import is_good_tag
from spools.models import Person, Spool, StampedTag
from spools.recorded import Recorded

NOT_AGAIN_FOR = timedelta(days=2 * 365)


def bind_tag(*, spool_id: int, tag: str, person: Person, key: str, at: datetime) -> Recorded:
    """Bind a tag by its five digits; the check digit catches a wrong one before it is bound.

    Raises ``ShopError``: invalid, tag_not_stamped, tag_retired, tag_taken, tag_used, and those of every deed.
    """
    tag = tag.strip()
    if not is_good_tag(tag):
        raise invalid(
            {"tag": "Read the five digits again: the check digit doesn't agree."}, "That is not a tag number."
        )

    def prepare(spool: Spool) -> dict[str, Any]:
        _must_be_on_the_nail(spool, tag)
        _must_be_free(spool, tag, at)
        return {"details": {"tag": tag}}

    return do_deed(code="tagged", spool_id=spool_id, person=person, key=key, at=at, reason=tag, prepare=prepare)


def must_hang_nowhere_else(spool: Spool, tag: str) -> None:
    """Refuse a tag that hangs on another spool still being built or on its way."""
    other = _others(spool, tag).filter(live=True, delivered_at=None).first() if tag else None
    if other:
        raise _taken(tag, other)


def _must_be_on_the_nail(spool: Spool, tag: str) -> None:
    """Refuse a tag that this shop never stamped or has retired; a shop without a stock of tags binds any good one."""
    stock = StampedTag.objects.filter(shop_id=spool.shop_id)
    stamped = stock.select_for_update(of=("self",)).filter(number=tag).first()
    if stamped and stamped.retired_at:
        words = f"Tag {tag} was retired: {stamped.retired_reason}."
        raise ShopError("tag_retired", words, "Put it to the scrap and take another from the nail.")
    if stamped is None and stock.exists():
        raise ShopError(
            "tag_not_stamped", f"Tag {tag} was never stamped here.", "Read the five digits again, the bar under them."
        )


def _must_be_free(spool: Spool, tag: str, at: datetime) -> None:
    """Refuse a tag that hangs on another spool, or did within the last two years.

    Two who bind it at the same moment may both pass; the database then keeps one, and the other comes by here again.
    """
    lately = Q(delivered_at=None, live=True) | Q(last_event_at__gt=at - NOT_AGAIN_FOR)
    other = _others(spool, tag).filter(lately).order_by("-last_event_at").first()
    if other is None:
        return
    if other.live and other.delivered_at is None:
        raise _taken(tag, other)
    when = f"{other.last_event_at.astimezone(other.shop.zone):%-d %b %Y}" if other.last_event_at else "lately"
    raise ShopError(
        "tag_used",
        f"Tag {tag} was on {other.label} until {when}.",
        "A number isn't used again within two years: take another tag from the nail.",
    )


def _others(spool: Spool, tag: str) -> QuerySet[Spool]:
    return Spool.objects.filter(shop_id=spool.shop_id, tag=tag).exclude(id=spool.id).select_related("tie_in", "shop")


def _taken(tag: str, other: Spool) -> ShopError:
    return ShopError("tag_taken", f"Tag {tag} hangs on {other.label}.", "Take another tag from the nail.")
