"""A reading from a phone is kept once, by what its measurer had seen, and what is doubtful is never built from."""

from dataclasses import replace
from datetime import timedelta

import pytest

from spools.actions.check_jig import MasterPosition, check_jig
from spools.actions.take_reading import Seen
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Jig, Reading
from spools.tie_in_stamp import tie_in_stamp
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON, make_key, take

pytestmark = pytest.mark.django_db


@pytest.fixture
def tie_in():
    return make_tie_in(make_job(make_shop()))


def check(tie_in, *, off_deg, at):
    jig = Jig.objects.get(shop=tie_in.job.shop)
    position = MasterPosition(name="long", length_off_mm=0.0, included_off_deg=off_deg)
    person = make_person(tie_in.job.shop, Role.FIELD)
    return check_jig(jig_id=jig.id, positions=(position,), person=person, key=make_key() + "-check", at=at)


def test_another_reading_that_arrived_meanwhile_is_asked_about_even_when_measured_again(tie_in):
    take(tie_in)
    tie_in.refresh_from_db()
    with pytest.raises(ShopError) as asked:
        take(tie_in, again=True, seen=Seen(revision=0))
    assert (asked.value.code, asked.value.facts["revision"]) == ("measured_before", 1)
    assert take(tie_in, again=True, seen=Seen(revision=1)).reading.revision == 2


def test_a_tie_in_that_changed_since_it_was_seen_is_asked_about(tie_in):
    stamp = tie_in_stamp(tie_in, tie_in.job.units)
    tie_in.nps = "8"
    tie_in.save()
    with pytest.raises(ShopError) as asked:
        take(tie_in, seen=Seen(revision=0, stamp=stamp))
    assert asked.value.code == "tie_in_changed"
    assert not Reading.objects.exists()
    assert take(tie_in, seen=Seen(revision=0, stamp=asked.value.facts["stamp"])).spool.nps == "8"


def test_a_second_reading_that_agrees_confirms_and_changes_nothing(tie_in):
    first = take(tie_in)
    tie_in.refresh_from_db()
    second = take(tie_in, replace(CLOSES, leg_a="36 3/16"), seen=Seen(revision=1, as_second=True))
    assert "confirms" in {finding.code for finding in second.findings}
    assert second.spool is None
    tie_in.refresh_from_db()
    assert tie_in.current_reading_id == first.reading.id
    assert second.reading.second_of_id == first.reading.id
    first.spool.refresh_from_db()
    assert first.spool.hold_count == 0


def test_a_second_reading_that_differs_stops_the_spool_and_names_the_slip(tie_in):
    first = take(tie_in)
    tie_in.refresh_from_db()
    second = take(tie_in, replace(CLOSES, leg_a="40 1/8"), keep_anyway=True, seen=Seen(revision=1, as_second=True))
    text = next(finding.text for finding in second.findings if finding.code == "differs")
    assert "the burned inches on leg A" in text
    first.spool.refresh_from_db()
    assert first.spool.hold_count == 1


def test_a_reading_taken_before_its_jig_failed_waits_for_the_foreman(tie_in):
    take(make_tie_in(tie_in.job, "100"))
    check(tie_in, off_deg=-0.8, at=NOON + timedelta(hours=2))
    check(tie_in, off_deg=0.0, at=NOON + timedelta(hours=4))
    late = take(tie_in, keep_anyway=True, taken_at=NOON + timedelta(hours=1), at=NOON + timedelta(hours=6))
    assert late.spool is None
    assert "jig_out_of_check" in {finding.code for finding in late.findings}
    assert take(make_tie_in(tie_in.job, "101"), at=NOON + timedelta(hours=7)).spool is not None


def test_a_locked_jig_refuses_a_form_but_never_loses_a_reading_from_a_phone(tie_in):
    take(make_tie_in(tie_in.job, "100"))
    check(tie_in, off_deg=-0.8, at=NOON + timedelta(hours=1))
    with pytest.raises(ShopError, match="locked"):
        take(tie_in, at=NOON + timedelta(hours=2))
    kept = take(tie_in, keep_anyway=True, at=NOON + timedelta(hours=2))
    assert (kept.spool, kept.reading.closes) == (None, False)


def test_a_check_that_arrives_late_leaves_the_jig_as_the_later_one_found_it(tie_in):
    take(make_tie_in(tie_in.job, "100"))
    check(tie_in, off_deg=0.0, at=NOON + timedelta(hours=4))
    check(tie_in, off_deg=-0.8, at=NOON + timedelta(hours=2))
    assert Jig.objects.get(shop=tie_in.job.shop).locked_reason == ""


def test_a_repeat_is_answered_as_the_first_time_word_for_word(tie_in):
    take(tie_in)
    tie_in.refresh_from_db()
    given = {"keep_anyway": True, "seen": Seen(revision=1, as_second=True), "key": "key-of-a-phone"}
    first = take(tie_in, replace(CLOSES, leg_a="40 1/8"), **given)
    again = take(tie_in, replace(CLOSES, leg_a="40 1/8"), **given)
    assert (again.repeated, again.reading) == (True, first.reading)
    assert again.findings == first.findings
