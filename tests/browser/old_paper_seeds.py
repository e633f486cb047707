"""A floor where one spool was measured again after it was cut, and the newer build stands beside the old paper."""

OLD = "301"


def revised_day() -> None:
    """The floor's day; 301 was cut, grooved and beveled, then measured again: leg A 3/8 longer, leg B 3/8 shorter."""
    from django.utils import timezone

    from spools.actions.release_spool import release_spool
    from spools.actions.scrap_spool import scrap_spool
    from spools.models import Person, Spool
    from spools.solving import Typed
    from tests.browser.floor_seeds import floor_day
    from tests.factories.spools import take

    floor_day()
    at, boss = timezone.now(), Person.objects.get(username="kellan")
    old = Spool.objects.get(tie_in__mark=OLD)
    newer = Typed(leg_a="36 1/2", leg_b="22 3/16", included="127.5", closing="53")
    taken = take(old.tie_in, newer, again=True, at=at, key="seed-again-301")
    call = {"person": boss, "at": at, "reason": "measured again"}
    scrap_spool(spool_id=old.id, key="seed-scrap-301", **call)
    release_spool(reading_id=taken.reading.id, key="seed-release-301", **call)
