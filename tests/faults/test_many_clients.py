"""Many clients on the same spools over a bad line: nothing lost, doubled or out of order; and the judge has teeth."""

from dataclasses import replace

import pytest
from django.db import connection

from tests.faults.judge import Row, Said, judge
from tests.faults.many_clients import make_shop, rows_of, run_clients
from tests.faults.served import served


@pytest.mark.skipif(connection.vendor != "postgresql", reason="over HTTP, against what several processes share")
@pytest.mark.usefixtures("unguarded_after")
def test_twelve_clients_on_eight_spools_lose_double_and_misorder_nothing():
    shop = make_shop(clients=12, spools=8)
    database = connection.settings_dict
    url = "postgres://{USER}:{PASSWORD}@{HOST}:{PORT}/{NAME}".format_map(database)
    at_start = len(rows_of(url))
    with served(url) as (port, _):
        said = run_clients(port, shop, steps=240, clients=12)
    rows = rows_of(url)
    assert judge(said, rows, at_start=at_start) == {}
    assert len({one.key for one in said}) == 240
    assert sum(one.status == 0 for one in said) >= 24
    assert {one.status for one in said} <= {0, 200, 201, 403, 404, 409, 422, 503}
    assert len(rows) > at_start + 40


MEASURED = Row(1, 9, 1, "measured", ("",), "field", 0.0)
CUT = Row(2, 9, 2, "cut", ("A", "B"), "k1", 1.0)
WELDED = Row(3, 9, 3, "welded", ("",), "k2", 2.0)


def told(row: Row, at: float, **changed) -> Said:
    body = {"event": row.id, "number": row.number, "step": row.code, "targets": list(row.targets), "words": ""}
    return Said(row.key, row.spool, at, at + 0.5, 201, body | changed)


CUT_AGAIN = replace(CUT, id=4, number=4, key="k3")
WORDS = {"words": "It is undone already.", "what_to_do": "Nothing left to undo."}
SAID, ROWS = [told(CUT, 1.0), told(WELDED, 2.0)], [MEASURED, CUT, WELDED]
FAULTS = {
    "lost": (SAID, [MEASURED, CUT]),
    "doubled": ([*SAID, told(CUT_AGAIN, 3.0)], [*ROWS, CUT_AGAIN]),
    "doubled key": (SAID, [*ROWS, replace(WELDED, id=4, number=4)]),
    "out of order": ([told(CUT, 3.0), told(WELDED, 1.0)], ROWS),
    "numbers with a gap or twice": (SAID, [MEASURED, CUT, replace(WELDED, number=4)]),
    "told otherwise": ([told(CUT, 1.0, number=7), told(WELDED, 2.0)], ROWS),
    "nobody asked for it": (SAID[:1], ROWS),
    "refused, yet there": ([SAID[0], Said("k2", 9, 2.0, 2.5, 409, WORDS)], ROWS),
    "one key, two answers": ([*SAID, replace(told(WELDED, 3.0), key="k1", status=200)], ROWS),
    "undone twice": (
        [*SAID, told(Row(4, 9, 4, "undone", (), "k4", 3.0), 3.0), told(Row(5, 9, 5, "undone", (), "k5", 4.0), 4.0)],
        [*ROWS, Row(4, 9, 4, "undone", (), "k4", 3.0, 3), Row(5, 9, 5, "undone", (), "k5", 4.0, 3)],
    ),
    "received before the one in front of it": (SAID, [MEASURED, CUT, replace(WELDED, received_at=0.5)]),
    "answered 500": ([*SAID, Said("k9", 9, 5.0, 5.5, 500)], ROWS),
    "refused without words": ([*SAID, Said("k9", 9, 5.0, 5.5, 409)], ROWS),
    "somebody was first, and it was not said": ([*SAID, replace(told(CUT, 3.0), key="k8", status=200)], ROWS),
}


def test_the_judge_finds_nothing_where_all_is_well():
    assert judge(SAID, ROWS, at_start=1) == {}


@pytest.mark.parametrize("fault", sorted(FAULTS))
def test_the_judge_finds(fault):
    said, rows = FAULTS[fault]
    assert fault in judge(said, rows, at_start=1)
