"""The bench list from rows."""

import pytest

from cutlists.papers.benches import bench_sheet_of
from cutlists.papers.heading import Printing
from spools.models import Bench, Piece
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.jobs import make_job
from tests.factories.people import make_shop
from tests.factories.spools import NOON, make_spool

pytestmark = pytest.mark.django_db


def test_sizes_stand_together_what_the_bench_is_set_up_for_first() -> None:
    job = make_job(make_shop())
    bench = Bench.objects.create(shop=job.shop, name="3", set_up_nps="4")
    for mark, nps in (("1", "6"), ("2", "4"), ("3", "6")):
        spool = make_spool(mark, job=job, nps=nps)
        spool.bench = bench
        spool.save(update_fields=["bench"])
    sheet = bench_sheet_of(bench, Printing(foreman_of(job.shop), NOON))
    assert [(setup.name, [line.mark for line in setup.lines]) for setup in sheet.setups] == [
        ("NPS 4", ["2"]),
        ("NPS 6", ["1", "3"]),
    ]


def test_a_line_says_which_pieces_are_not_cut_yet() -> None:
    job = make_job(make_shop())
    bench = Bench.objects.create(shop=job.shop, name="3")
    spool = make_spool("1", job=job)
    spool.bench = bench
    spool.save(update_fields=["bench"])
    Piece.objects.filter(spool=spool, mark="A").update(is_cut=True)
    printing = Printing(foreman_of(job.shop), NOON)
    assert bench_sheet_of(bench, printing).setups[0].lines[0].here == "B not cut"
    Piece.objects.filter(spool=spool).update(is_cut=True)
    assert bench_sheet_of(bench, printing).setups[0].lines[0].here == "all cut"
