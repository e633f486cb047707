"""The foreman's tray: what waits for his decision, seven at most on the floor, each with its one action."""

import re

import pytest
from django.utils import timezone

from spools.actions.hold_spool import hold_spool
from spools.actions.record_step import Tap, record_step
from spools.actions.scrap_spool import scrap_spool
from spools.actions.take_reading import Seen
from spools.flow.roles import Role
from spools.models import Bench, Reading
from spools.queries.spool import scan_code
from spools.solving import Typed
from tests.factories.full_shop import DOES_NOT_CLOSE
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person
from tests.factories.spools import make_key, take

pytestmark = pytest.mark.django_db
DIFFERS = Typed(leg_a="36 1/8", leg_b="22 9/16", included="120", closing="51 7/16")


def rows(client, page="/floor/"):
    text = client.get(page).content.decode()
    if 'id="tray"' not in text:
        return []
    tray = text.split('id="tray">')[1].split("</ul>")[0]
    return [re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", row)).strip() for row in tray.split("<li ")[1:]]


def call(spool, person):
    return {"spool_id": spool.id, "person": person, "key": make_key(), "at": timezone.now()}


def told_twice(spool):
    one, two = (Bench.objects.create(shop=spool.shop, name=name).id for name in ("1", "2"))
    for name, bench in (("Ruiz", one), ("Banner", two)):
        person = make_person(spool.shop, Role.FITTER, Role.CUTTER, name=name)
        record_step(step="welded", tap=Tap(already=True, bench_id=bench), **call(spool, person))


def press(client, page, words):
    """Press a button of the tray as the browser would."""
    text = client.get(page).content.decode()
    for form in re.findall(r'<form action="(/spools/\d+/deed/)".*?</form>', text, re.S):
        body = text.split(f'<form action="{form}"')[1].split("</form>")[0]
        button = re.search(rf'<button type="submit"(?: name="which" value="(\w+)")?>{re.escape(words)}', body)
        if button:
            posted = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', body))
            posted.pop("csrfmiddlewaretoken", "")
            return client.post(form, posted | ({"which": button[1]} if button[1] else {}))
    raise AssertionError(words)


def test_two_benches_are_sorted_out_in_one_press_for_the_second(spool, sign_in):
    told_twice(spool)
    foreman = sign_in(Role.FOREMAN)
    assert "told twice: welded on bench 1 by Ruiz and on bench 2 by Banner. Whose word counts?" in rows(foreman)[0]
    assert press(foreman, "/floor/", "It is on bench 2 by Banner")["Location"] == "/floor/"
    assert rows(foreman) == []
    assert spool.events.get(code="welded", undone_by=None).person.short_name == "Banner"


def test_the_spool_s_own_page_picks_too(spool, sign_in):
    told_twice(spool)
    foreman = sign_in(Role.FOREMAN)
    page = foreman.get(f"/spools/{spool.id}/").content.decode()
    assert "It is on bench 1 by Ruiz" in page
    assert "It is on bench 1 by Ruiz" not in sign_in(Role.FITTER).get(f"/spools/{spool.id}/").content.decode()


def scrapped(spool):
    foreman = make_person(spool.shop, Role.FOREMAN)
    scrap_spool(reason="bent", **call(spool, foreman))
    return scan_code(spool)


def test_old_paper_that_stopped_somebody_waits_until_it_is_taken_away(spool, sign_in):
    code, foreman = scrapped(spool), sign_in(Role.FOREMAN)
    fitter = sign_in(Role.FITTER, name="Ruiz")
    assert b"OLD PAPER. STOP." in fitter.get(f"/s/{code}/").content
    fitter.get(f"/s/{code}/")  # looked at once more: one row
    paper = [row for row in rows(foreman) if "old paper" in row]
    assert len(paper) == 1
    assert "it stopped Ruiz" in paper[0]
    assert spool.events.filter(code="old_paper").count() == 1
    press(foreman, "/floor/", "The paper is gone")
    assert [row for row in rows(foreman) if "old paper" in row] == []
    fitter.get(f"/s/{code}/")  # another print of it turns up
    assert [row for row in rows(foreman) if "old paper" in row] != []


def test_old_paper_scanned_at_a_bench_says_where(spool, sign_in):
    code = scrapped(spool)
    bench = Bench.objects.create(shop=spool.shop, name="2")
    sign_in(Role.FITTER, name="Ruiz").get(f"/benches/{bench.id}/?mark={code}")
    assert "at bench 2" in next(row for row in rows(sign_in(Role.FOREMAN)) if "old paper" in row)


def test_a_foreman_looking_at_old_paper_and_paper_that_counts_are_no_news(spool, sign_in):
    sign_in(Role.FITTER).get(f"/s/{scan_code(spool)}/")
    code = scrapped(spool)
    sign_in(Role.FOREMAN).get(f"/s/{code}/")
    assert not spool.events.filter(code="old_paper").exists()


def test_a_second_reading_that_differs_is_to_be_decided(spool, sign_in):
    take(spool.tie_in, DIFFERS, seen=Seen(as_second=True), keep_anyway=True)
    (row,) = rows(sign_in(Role.FOREMAN))
    assert "measured twice: second reading B differs from the first" in row
    assert "Say which is right" in row
    second = Reading.objects.get(revision=2)
    assert f'href="/readings/{second.id}/">Say which is right' in sign_in(Role.FOREMAN).get("/floor/").content.decode()


def test_seven_at_most_stand_on_the_floor_and_all_of_them_on_their_page(spool, sign_in):
    for number in range(9):
        take(make_tie_in(spool.tie_in.job, f"W{number}"), DOES_NOT_CLOSE, keep_anyway=True)
    foreman = sign_in(Role.FOREMAN)
    assert len(rows(foreman)) == 7
    assert b"All to sort out: 2 more" in foreman.get("/floor/").content
    assert len(rows(foreman, "/floor/sort-out/")) == 9


def test_what_stops_the_floor_comes_before_a_reading_that_waits(spool, sign_in):
    take(make_tie_in(spool.tie_in.job, "W1"), DOES_NOT_CLOSE, keep_anyway=True)
    told_twice(spool)
    first, second = rows(sign_in(Role.FOREMAN))
    assert "told twice" in first
    assert "W1" in second


def test_the_manager_reads_the_tray_and_decides_nothing(spool, sign_in):
    told_twice(spool)
    page = sign_in(Role.MANAGER).get("/floor/").content.decode()
    assert "told twice" in page
    assert 'value="told"' not in page


def test_a_reading_that_came_after_cutting_began_names_the_build_it_stopped(spool, sign_in):
    record_step(step="cut", **call(spool, make_person(spool.shop, Role.CUTTER)))
    take(spool.tie_in, again=True)
    (row,) = rows(sign_in(Role.FOREMAN))
    assert "came after cutting began; 214, built from an older one, is on hold" in row
    assert "Say which is built" in row


def test_the_list_of_what_is_on_hold_says_why_and_whose_move_it_is(spool, sign_in):
    foreman = make_person(spool.shop, Role.FOREMAN)
    hold_spool(reason="no elbow", owner="purchasing", **call(spool, foreman))
    assert "no elbow; purchasing has the next move" in sign_in(Role.FOREMAN).get("/floor/held/").content.decode()
