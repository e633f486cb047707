"""Steel tags before they are bound: stamp a batch for the nail, retire a lost or spoiled one."""

from datetime import datetime

from django.db.models import Max

from spools.errors import ShopError, invalid, not_your_role
from spools.flow.roles import Role, say_roles
from spools.flow.tags import MOST_TAGS, good_tags_after
from spools.models import Person, Shop, Spool, StampedTag, TagBatch
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN, Role.FITTER})
MOST = 500


@all_or_nothing
def stamp_tags(*, count: int, person: Person, key: str, at: datetime) -> TagBatch:
    """Put the next good numbers on the list to stamp; the same key again is the same batch.

    Raises ``ShopError``: not_your_role, invalid, no_numbers_left.
    """
    if not person.may(WHO):
        raise not_your_role("Stamp tags", say_roles(WHO))
    shop = Shop.objects.select_for_update(of=("self",)).get(id=person.the_shop_id)
    earlier = TagBatch.objects.for_person(person).filter(key=key).first()
    if earlier:
        return earlier
    if not 1 <= count <= MOST:
        raise invalid({"count": f"Write how many, 1 to {MOST}."}, "No tags to stamp.")
    numbers = _free_numbers(shop, count)
    last = TagBatch.objects.filter(shop=shop).aggregate(Max("number"))["number__max"] or 0
    batch = TagBatch.objects.create(shop=shop, number=last + 1, key=key, stamped_by=person, stamped_at=at)
    StampedTag.objects.bulk_create(StampedTag(shop=shop, batch=batch, number=number) for number in numbers)
    return batch


def _free_numbers(shop: Shop, count: int) -> list[str]:
    """Return the next numbers that were neither stamped nor hung on a spool before, going around once."""
    stamped = set(StampedTag.objects.filter(shop=shop).values_list("number", flat=True))
    hung = set(Spool.objects.filter(shop=shop).exclude(tag="").values_list("tag", flat=True))
    known = stamped | hung
    newest = max(known, default="0000")
    free = [tag for tag in good_tags_after(int(newest[:4])) if tag not in known][:count]
    if len(free) < count:
        raise ShopError(
            "no_numbers_left",
            f"Only {len(free)} of the {MOST_TAGS:,} numbers were never stamped.",
            "Stamp those, then go on with the tags that hang on the nail.",
        )
    return free


@all_or_nothing
def retire_tag(*, number: str, reason: str, person: Person, at: datetime) -> StampedTag:
    """Take a lost or spoiled tag out of the stock for good. Raises ``ShopError``: not_your_role, invalid, tag_taken."""
    if not person.may(WHO):
        raise not_your_role("Retire a tag", say_roles(WHO))
    if not reason.strip():
        raise invalid({"reason": "Say why in a few words: lost, misstamped, bent."}, "A reason is missing.")
    tags = StampedTag.objects.select_for_update(of=("self",)).filter(shop_id=person.the_shop_id)
    tag = tags.filter(number=number.strip()[:5]).first()
    if tag is None:
        raise invalid({"number": "Type the five digits of a tag that was stamped here."}, "No such tag was stamped.")
    hangs_on = Spool.objects.filter(shop_id=tag.shop_id, tag=tag.number, live=True, delivered_at=None).first()
    if hangs_on:
        raise ShopError(
            "tag_taken",
            f"Tag {tag} hangs on {hangs_on.label}.",
            "Bind another tag to that spool first, then retire it.",
        )
    if tag.retired_at is None:
        tag.retired_at, tag.retired_reason = at, reason.strip()[:120]
        tag.save(update_fields=["retired_at", "retired_reason"])
    return tag
