"""First time right by week and remeasured tie-ins by jig."""

from spools.turnaround.quality import first_time_right, remeasured_by_jig
from spools.turnaround.shares import Share
from tests.spools.turnaround.a_shop import day, local, seen, spool

NOW = "2026-11-20 12:00"


def test_a_spool_with_a_defect_is_not_right_first_time():
    good = spool("1", start="2026-11-02 08:00", accepted="2026-11-03 08:00")
    mended = spool("2", start="2026-11-02 08:00", accepted="2026-11-04 08:00", defects=1)
    (week,) = first_time_right(seen(good, mended, at=NOW))
    assert (week.monday, week.share) == (day("2026-11-02"), Share(1, 2))


def test_a_replacement_of_a_scrapped_build_is_not_right_first_time():
    scrapped = spool("1", start="2026-11-02 08:00", scrapped_at=local("2026-11-02 10:00"))
    again = spool("1", start="2026-11-02 10:00", accepted="2026-11-03 08:00")
    (week,) = first_time_right(seen(scrapped, again, at=NOW))
    assert week.share == Share(0, 1)


def test_remeasured_tie_ins_are_counted_by_jig():
    spools = [spool(str(n), start="2026-11-02 08:00", jig="Jig 2", remeasured=n < 3) for n in range(7)]
    (jig,) = remeasured_by_jig(seen(*spools, spool("8", start="2026-11-02 08:00"), at=NOW))
    assert (jig.jig, jig.share) == ("Jig 2", Share(3, 7))
