"""The whole month played: every shown total adds up, every story is there as events."""

from collections import Counter
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from django.db.models import Count, Max, Min, Sum
from django.test import Client

from cutlists.demo.people import DEMO_WORD, SIGN_INS
from cutlists.demo.scenario import COUNTS, DUE_BY_WEEK, NOT_MEASURED, ON_TIME_BY_WEEK, TIE_INS
from cutlists.demo.totals import totals_of
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.papers.heading import Printing
from cutlists.papers.turnaround import write_report
from cutlists.sheets import paper
from cutlists.units import PER_INCH
from spools.actions.rebuild_status import rebuild_status
from spools.flow.roles import Role
from spools.models import Event, JigCheck, Load, Person, Reading, Spool
from spools.queries.doubtful import sweeps
from spools.queries.hanging import hanging_of
from tests.cutlists.demo.event_table import SAID, last_sight, open_hold, questions, sentence_of
from tests.factories.people import make_person

HOUR = timedelta(hours=1)
pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 28, 10, tzinfo=UTC)  # a Saturday: the month ends on Friday


def totals(diary):
    return totals_of(diary.ground.crew.manager, at=diary.month.end)


def test_tie_ins_stand_where_the_scenario_says(diary):
    found = totals(diary)
    assert (found.tie_ins, found.not_measured) == (TIE_INS, NOT_MEASURED)
    assert found.counts == COUNTS
    assert COUNTS.measured + NOT_MEASURED == TIE_INS


def test_the_promise_is_186_of_221_by_due_week(diary):
    promise = totals(diary).promise.on_time
    assert (promise.share.hits, promise.share.n, promise.share.percent) == (186, 221, 84)
    assert tuple(week.share.n for week in promise.by_week) == DUE_BY_WEEK
    assert tuple(week.share.hits for week in promise.by_week) == ON_TIME_BY_WEEK
    assert (promise.finished_only.hits, promise.finished_only.n) == (186, 215)
    assert len(promise.open_late) == 6
    assert promise.not_yet_due == 27


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_months_turnaround_report_is_two_pages(diary, size):
    manager, promise = diary.ground.crew.manager, totals(diary).promise
    assert write_report(BytesIO(), promise, Printing(manager, promise.at), paper=paper(size)) == 2


def test_the_promise_page_counts_the_same(diary):
    counts = totals(diary).promise.counts
    assert counts == {
        "tie_ins": 312,
        "not_measured": 64,
        "measured": 248,
        "in_shop": 33,
        "ready": 12,
        "at_coating": 31,
        "yard": 14,
        "delivered": 158,
    }


def test_the_promise_stays_the_same_until_the_end_of_the_next_working_day(diary):
    calendar = totals(diary).promise.snapshot.calendar
    next_day = calendar.next_working_day(diary.month.days[-1])
    later = totals_of(diary.ground.crew.manager, at=calendar.last_end(next_day)).promise.on_time
    assert (later.share.hits, later.share.n, later.not_yet_due) == (186, 221, 27)


def test_what_was_delivered_fits_the_next_days_and_only_the_last_days_are_still_to_hang(diary):
    fits = Event.objects.filter(code="fits").select_related("spool__tie_in")
    assert all(event.spool.delivered_at.date() < event.done_at.date() for event in fits)
    to_hang = hanging_of(diary.ground.crew.field[1])
    assert fits.count() + len(to_hang) == COUNTS.delivered
    assert [one.said for one in to_hang if one.said] == ["too long; 3/8 in at the main, Orban"]
    assert 0 < len(to_hang) < 40


def test_every_projection_is_what_its_events_lead_to(diary):
    assert rebuild_status(write=False) == []


def test_events_are_numbered_without_gaps(diary):
    rows = Event.objects.values("spool").annotate(n=Count("id"), first=Min("number"), last=Max("number"))
    assert all(row["first"] == 1 and row["last"] == row["n"] for row in rows)
    assert len(rows) == Spool.objects.count()


def test_nothing_happens_after_the_last_shift(diary):
    end = diary.month.end
    assert Event.objects.filter(received_at__gt=end).count() == 0
    assert Reading.objects.filter(received_at__gt=end).count() == 0
    assert StockEvent.objects.filter(at__gt=end).count() == 0
    assert JigCheck.objects.filter(at__gt=end).count() == 0


def test_the_stock_account_adds_up_bar_by_bar(diary):
    for bar in StockBar.objects.annotate(booked=Sum("events__length_u"), n=Count("events"), last=Max("events__number")):
        assert bar.booked == bar.length_u
        assert bar.n == bar.last


def test_all_steel_received_is_on_hand_or_accounted_for(diary):
    moved = Counter()
    for kind, length_u in StockEvent.objects.values_list("kind", "length_u"):
        moved[kind] += length_u
    bought = sum(StockBar.objects.filter(is_drop=False).values_list("received_u", flat=True))
    on_hand = sum(StockBar.objects.values_list("length_u", flat=True))
    gone = sum(moved[kind] for kind in ("cut", "kerf", "trimmed", "scrapped", "corrected"))
    assert bought + gone == on_hand


def test_every_cut_is_in_one_plan_and_every_plan_of_the_past_is_cut(diary):
    assert CutPlan.objects.filter(state="open").count() == 2
    to_cut = set(Spool.objects.filter(live=True, next_step="cut", hold_count=0).values_list("id", flat=True))
    assert set(Cut.objects.filter(state="planned").values_list("piece__spool", flat=True)) == to_cut


def test_the_stories_are_there_as_events(diary):
    codes = Counter(Event.objects.values_list("code", flat=True))
    assert codes["wrong_cut"] == 3
    assert codes["rejected"] == 4
    assert codes["misfit"] == 2
    assert codes["missing"] == 1
    assert codes["rushed"] == 9 + 1  # the apron pour, and the lost spool's replacement
    assert codes["undone"] == 2  # the elbow's heat typed wrong, and the bevel that stood on it
    doubtful = Event.objects.filter(code="held", reason__startswith="doubtful reading")
    assert doubtful.count() == 14


def test_two_pieces_cut_wrong_serve_other_tie_ins_and_one_is_scrap(diary):
    kept = StockBar.objects.filter(is_drop=True, events__reason__startswith="wrong cut")
    scrapped = StockEvent.objects.filter(kind="scrapped", reason__startswith="wrong cut")
    assert (kept.count(), scrapped.count()) == (2, 1)
    for bar in kept:
        wrong_for = bar.events.get(reason__startswith="wrong cut").piece
        served = bar.cuts.get(state="done").piece
        assert served.spool != wrong_for.spool
        assert served.is_cut
        assert wrong_for.is_cut


def test_the_sweep_of_the_bad_jig_names_fourteen_readings(diary):
    (sweep,) = sweeps(diary.ground.crew.foreman, at=diary.month.end)
    assert len(sweep.rows) == 14
    assert sweep.check.included_off_deg == -0.8


def test_four_doubtful_readings_were_wrong_and_one_of_them_was_cut(diary):
    again = Reading.objects.filter(note="read again with jig 1")
    assert again.count() == 4
    firsts = Spool.objects.filter(tie_in__in=again.values("tie_in"), build=1)
    assert Counter(spool.the_standing.ended for spool in firsts) == {"superseded": 3, "scrapped": 1}
    for reading in again:
        first = Reading.objects.get(tie_in=reading.tie_in, revision=1)
        assert 0.5 <= reading.included_deg - first.included_deg <= 1.25


def test_the_lost_spool_is_replaced_once_and_waits_for_the_saw(diary):
    old, new = Spool.objects.filter(tie_in__mark="088").order_by("build")
    assert (old.live, old.the_standing.ended) == (False, "scrapped")
    assert (new.live, new.next_step, new.rush) == (True, "cut", True)
    assert (new.clock_start_at, new.due_at) == (old.clock_start_at, old.due_at)


def test_the_split_load_went_in_two_trips_of_22_and_9(diary):
    day = diary.month.days[18]
    loads = [load for load in Load.objects.filter(kind="coating").order_by("number") if load.made_at.date() == day]
    assert [load.lines.count() for load in loads] == [22, 9]
    assert all(load.closed_at for load in loads)


def test_the_short_bar_took_no_extra_bar(diary):
    short = StockEvent.objects.get(kind="corrected")
    assert short.length_u == -8 * PER_INCH
    plan = CutPlan.objects.get(id__in=short.bar.cuts.values("plan"), made_at__lt=short.at, made_at__gt=short.at - HOUR)
    reserved = StockEvent.objects.filter(kind="reserved", at=plan.made_at, bar__nps=plan.nps, bar__is_drop=False)
    cut_from = plan.cuts.filter(state="done", bar__is_drop=False).values_list("bar", flat=True)
    assert 0 < len(set(cut_from)) <= reserved.count()


def test_214_was_welded_last_thing_by_ruiz_on_bench_3(diary):
    spool = Spool.objects.get(tie_in__mark="214")
    assert (spool.nps, spool.next_step, str(spool.bench)) == ("6", "accepted", "3")
    assert spool.events.get(code="welded").person.last_name == "Ruiz"
    assert spool.turn_deg == 53


def test_the_three_leg_spool_is_held_and_says_why(diary):
    spool = Spool.objects.get(tie_in__mark="266")
    assert "three legs" in spool.the_standing.holds[0].reason


def test_readings_close_by_rule_but_for_five_released_by_name(diary):
    released = Event.objects.filter(code="measured", spool__build=1).exclude(reason="")
    assert released.count() == 5
    assert Reading.objects.filter(closes=False).count() == 5


def test_two_jigs_with_different_set_points_were_read(diary):
    used = {
        (p.jig.serial, p.version, p.set_point_a_mm)
        for r in Reading.objects.select_related("set_points__jig")
        for p in [r.set_points]
    }
    assert {(serial, version) for serial, version, _ in used} == {("1", 1), ("2", 1), ("2", 2)}
    assert len({a for _, _, a in used}) == 3


def test_every_role_can_sign_in(diary):
    for _, sign_in in SIGN_INS:
        assert Person.objects.get(username=sign_in).check_password(DEMO_WORD)
    roles = {role for person in Person.objects.all() for role in person.role_set}
    assert roles == set(Role)


def test_where_is_asked_a_hundred_times_is_answered_as_the_event_table_says(diary):
    shop = diary.ground.crew.manager.shop
    client = Client()
    client.force_login(make_person(shop, Role.FOREMAN), backend="django.contrib.auth.backends.ModelBackend")
    wrong, kinds = [], set()
    for spool, words, label in questions(100, seed=214):
        said = sentence_of(client, words, label)
        code, at, who = last_sight(spool)
        kinds.add(code)
        hold = open_hold(spool)
        local = at.astimezone(shop.zone)
        parts = [SAID.get(code, code), f"{local:%a} {local.day} {local:%b %H:%M} by {who}", f"on hold: {hold}"]
        wrong += [(words, said, part) for part in parts[: 3 if hold else 2] if part not in said]
        if not hold and "on hold" in said:
            wrong.append((words, said, "no hold"))
    assert wrong == []
    assert len(kinds) >= 6
