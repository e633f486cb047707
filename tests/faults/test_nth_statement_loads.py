"""Every deed on a truck is all or nothing, as in ``test_nth_statement``."""

from collections.abc import Callable
from typing import Any

import pytest

from spools.actions.count_back import count_back, report_damaged, report_missing
from spools.actions.deliver import deliver
from spools.actions.keep_load_photo import keep_load_photo
from spools.actions.load_truck import Placed, send_trip
from spools.actions.misfit_on_load import misfit_on_load
from spools.actions.reject_coating import reject_coating
from spools.actions.renew_link import end_link, renew_link
from spools.actions.replace_spool import start_replacement, use_the_old_one
from spools.actions.sign_load import sign_load
from spools.actions.turn_up import turn_up
from spools.actions.uncount import uncount
from spools.actions.weigh_load import weigh_load
from spools.models import Load, Spool
from tests.factories.loads import everybody_of, make_accepted_ones, make_load
from tests.factories.spools import NOON, make_key
from tests.faults.breaking import break_everywhere

pytestmark = pytest.mark.django_db(transaction=True)


def a_load() -> tuple[Load, Spool, dict[str, Any]]:
    (spool,) = make_accepted_ones("214")
    load = make_load(spool)
    return load, spool, {"person": everybody_of(spool), "at": NOON}


def lost() -> tuple[Load, Spool, dict[str, Any]]:
    load, spool, call = a_load()
    report_missing(load_id=load.id, spool_id=spool.id, reason="nobody has it", key=make_key(), **call)
    return load, spool, call


def on_site() -> tuple[Load, Spool, dict[str, Any]]:
    load, spool, call = a_load()
    count_back(load_id=load.id, spool_ids=[spool.id], key=make_key(), **call)
    return make_load(spool, kind="site", key="to-the-site"), spool, call


def a_later_trip() -> Callable[[str], Any]:
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other, placed=Placed(trip={other.id: 2}))
    return lambda key: send_trip(load_id=load.id, trip=2, person=everybody_of(one), key=key, at=NOON)


def a_missing_one() -> Callable[[str], Any]:
    load, spool, call = a_load()
    return lambda key: report_missing(load_id=load.id, spool_id=spool.id, reason="not here", key=key, **call)


def a_damaged_one() -> Callable[[str], Any]:
    load, spool, call = a_load()
    return lambda key: report_damaged(load_id=load.id, spool_id=spool.id, how="bent", key=key, **call)


def one_that_turned_up() -> Callable[[str], Any]:
    load, spool, call = lost()
    return lambda key: turn_up(load_id=load.id, spool_id=spool.id, key=key, **call)


def a_replacement() -> Callable[[str], Any]:
    _, spool, call = lost()
    return lambda key: start_replacement(spool_id=spool.id, key=key, rush=True, **call)


def the_old_one_used() -> Callable[[str], Any]:
    load, spool, call = lost()
    start_replacement(spool_id=spool.id, key=make_key(), **call)
    turn_up(load_id=load.id, spool_id=spool.id, key=make_key(), **call)
    return lambda key: use_the_old_one(spool_id=spool.id, key=key, **call)


def a_second_dip() -> Callable[[str], Any]:
    load, spool, call = a_load()
    report_damaged(load_id=load.id, spool_id=spool.id, how="bare", key=make_key(), **call)
    return lambda key: reject_coating(spool_id=spool.id, how="redip", defect="bare", key=key, **call)


def a_count_taken_back() -> Callable[[str], Any]:
    load, spool, call = a_load()
    count_back(load_id=load.id, spool_ids=[spool.id], key=make_key(), **call)
    return lambda key: uncount(load_id=load.id, spool_id=spool.id, key=key, **call)


def a_delivery() -> Callable[[str], Any]:
    load, spool, call = on_site()
    return lambda key: deliver(load_id=load.id, spool_ids=[spool.id], receiver="Okafor", key=key, **call)


def a_misfit() -> Callable[[str], Any]:
    load, spool, call = on_site()
    return lambda key: misfit_on_load(load_id=load.id, spool_id=spool.id, how="short", key=key, **call)


def a_photo_of_damage() -> Callable[[str], Any]:
    load, spool, call = on_site()
    report_damaged(load_id=load.id, spool_id=spool.id, how="bent", key=make_key(), **call)
    content = b"\xff\xd8\xff" + bytes(200)
    photo = {"content": content, "size": len(content)}
    return lambda key: keep_load_photo(load_id=load.id, spool_id=spool.id, key=key, **photo, **call)


def a_signature() -> Callable[[str], Any]:
    load, _, call = a_load()
    strokes = [[[0, 0], [500, 400]]]
    return lambda key: sign_load(load_id=load.id, signed_for="back", name="M. Tran", strokes=strokes, key=key, **call)


def a_weight() -> Callable[[str], Any]:
    load, _, call = a_load()
    return lambda key: weigh_load(load_id=load.id, way="out", net_kg=40.0, key=key, **call)


def a_link_for_longer() -> Callable[[str], Any]:
    load, _, call = a_load()
    Load.objects.update(link_until=None)
    return lambda key: renew_link(load_id=load.id, **call)


def a_link_ended() -> Callable[[str], Any]:
    load, _, call = a_load()
    return lambda key: end_link(load_id=load.id, **call)


DEEDS = [
    a_later_trip,
    a_missing_one,
    a_damaged_one,
    one_that_turned_up,
    a_replacement,
    the_old_one_used,
    a_second_dip,
    a_count_taken_back,
    a_delivery,
    a_misfit,
    a_photo_of_damage,
    a_signature,
    a_weight,
    a_link_for_longer,
    a_link_ended,
]


@pytest.mark.parametrize("prepare", DEEDS, ids=lambda prepare: prepare.__name__)
def test_broken_off_anywhere_it_leaves_nothing_and_can_be_tried_again(prepare, unguarded_after):
    break_everywhere(prepare)
