"""A list is looked at first, every bad line is named, and only then all that is good is saved, or nothing."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from spools.flow.roles import Role
from spools.models import Job, Main, Reading, Survey, TieIn
from tests.factories.jobs import make_tie_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(spool):
    return spool.tie_in.job


@pytest.fixture
def client(sign_in):
    return sign_in(Role.FOREMAN, Role.FIELD)


def look_at(client, job: Job, which: str, text: str, **more):
    file = SimpleUploadedFile("list.csv", text.encode(), content_type="text/csv")
    return client.post(f"/jobs/{job.id}/import/{which}/", {"file": file} | more)


def save(client, job: Job, which: str, preview, **more):
    body = {"text": preview.context["text"], "key": preview.context["key"], "unit": preview.context["unit"]}
    return client.post(f"/jobs/{job.id}/import/{which}/save/", body | more)


def tie_in_list(count: int, bad: int) -> str:
    """A list of so many lines, of which every bad one lacks something else."""
    lines = ["mark,station,side,nps,note"]
    for number in range(count):
        line = [f"T{number}", f"{number}+00", "left", "6", ""]
        if number % (count // bad) == 0:
            line[number // (count // bad) % 4] = "?" * 20
        lines.append(",".join(line))
    return "\n".join(lines)


def test_5000_lines_with_300_bad_ones_are_all_named_and_nothing_is_saved_before_it_is_asked_for(client, job):
    preview = look_at(client, job, "tie-ins", tie_in_list(5001, 300).rsplit("\n", 1)[0])
    shown = preview.content.decode()
    bad = preview.context["bad"]
    assert len(bad) >= 300
    assert preview.context["good_count"] + len(bad) == 5000
    lines = [int(line) for line in re.findall(r'<th scope="row">(\d+)</th><td data-label="Mark">', shown)]
    assert lines == [row.line for row in bad]
    assert all(row.problems for row in bad)
    assert TieIn.objects.filter(job=job).count() == 1
    answer = save(client, job, "tie-ins", preview)
    assert answer.status_code == 302
    assert TieIn.objects.filter(job=job).count() == 1 + preview.context["good_count"]


def test_a_mark_taken_meanwhile_stops_the_whole_list(client, job):
    preview = look_at(client, job, "tie-ins", tie_in_list(10, 1))
    make_tie_in(job, "T5")
    answer = save(client, job, "tie-ins", preview)
    assert answer.status_code == 422
    assert not TieIn.objects.filter(job=job, mark__in=["T3", "T4"]).exists()


def test_a_list_saved_twice_is_there_once(client, job):
    preview = look_at(client, job, "tie-ins", tie_in_list(10, 1))
    save(client, job, "tie-ins", preview)
    assert save(client, job, "tie-ins", preview).status_code == 422
    assert TieIn.objects.filter(job=job).count() == 1 + preview.context["good_count"]


def test_a_job_s_own_list_taken_out_can_be_brought_into_another_job(client, job, spool):
    from tests.factories.jobs import make_job

    other = make_job(spool.shop)
    Main.objects.create(job=other, name="East gallery", nps="24")
    text = client.get(f"/jobs/{job.id}/tie-ins.csv").content.decode()
    preview = look_at(client, other, "tie-ins", text)
    assert preview.context["bad"] == ()
    save(client, other, "tie-ins", preview)
    copy = TieIn.objects.get(job=other)
    assert (copy.mark, copy.side, copy.nps, copy.end_b) == ("214", "left", "6", "grooved")
    assert copy.station_mm == pytest.approx(spool.tie_in.station_mm, abs=3.1)


READINGS = """mark,jig,leg a,leg b,included,c,hand,taken at
301,J1,36 1/8,22 9/16,127.5,53 1/16,left,2026-11-23 09:40
302,J1,36 1/8,22 9/16,52.5,53 1/16,left,
303,J1,3-4,22 9/16,127.5,,,yesterday
304,J1,36 1/8,22 9/16,127.5,,,
214,J1,36 1/8,22 9/16,127.5,53 1/16,,
301,J9,36,22,127,,,
"""


def test_readings_from_paper_are_judged_before_they_are_kept(client, job):
    for mark in ("301", "302", "303", "304"):
        make_tie_in(job, mark)
    preview = look_at(client, job, "readings", READINGS)
    remarks = [line.remark for line in preview.context["good"]]
    assert remarks[0] == "closes: its spool is released"
    assert "outside the jig" in remarks[1] or "supplement" in remarks[1]
    assert remarks[2].startswith("kept for the foreman")
    assert [(row.line, {name for name, _ in row.problems}) for row in preview.context["bad"]] == [
        (4, {"taken_at"}),
        (6, {"mark"}),
        (7, {"mark", "jig"}),
    ]
    assert Reading.objects.filter(tie_in__mark="301").count() == 0
    save(client, job, "readings", preview)
    kept = Reading.objects.filter(tie_in__mark__in=["301", "302", "304"]).order_by("tie_in__mark")
    assert [reading.closes for reading in kept] == [True, False, False]
    assert kept[0].taken_at.astimezone(job.shop.zone).hour == 9


SHOTS = """mark,axis,x,y,z
301,A,0,0,0
301,A,2,0,0
301,B,5,4,0
301,B,5,3,0
302,A,0,0,0
302,B,5,x,0
303,A,0,0,0
"""


def test_survey_shots_become_a_reading_that_waits_for_the_foreman(client, job):
    for mark in ("301", "302", "303"):
        make_tie_in(job, mark)
    preview = look_at(client, job, "shots", SHOTS, unit="ft")
    assert preview.context["good"][0].remark == "one bend, turns 90.0 degrees"
    assert [row.line for row in preview.context["bad"]] == [6, 7, 8]
    save(client, job, "shots", preview)
    survey = Survey.objects.get()
    assert survey.shots["a"][1] == [pytest.approx(609.6), 0.0, 0.0]
    reading = survey.reading
    assert (reading.leg_a_mm, reading.leg_b_mm) == (
        pytest.approx(3 * 304.8, abs=0.01),
        pytest.approx(3 * 304.8, abs=0.01),
    )
    assert reading.included_deg == pytest.approx(90.0)
    assert not reading.closes
    taken_out = client.get(f"/jobs/{job.id}/shots.csv").content.decode().splitlines()
    assert taken_out[0] == "mark,axis,x,y,z"
    assert len(taken_out) == 5


TWO_BENDS = """mark,axis,x,y,z
301,A,-600,0,0
301,A,0,0,0
301,B,1100,1300,160
301,B,1100,700,160
302,A,-600,0,0
302,A,0,0,0
302,B,700,30,20
302,B,60,30,20
303,A,-600,0,0
303,A,0,0,0
303,B,1600,0,0
303,B,1000,0,0
"""


def test_shots_say_before_they_are_saved_how_two_bends_join_their_ends_or_why_nothing_does(client, job):
    for mark in ("301", "302", "303"):
        make_tie_in(job, mark)
    preview = look_at(client, job, "shots", TWO_BENDS, unit="mm")
    remarks = [line.remark for line in preview.context["good"]]
    assert remarks[0].startswith("two bends, trimmed long radius elbow")
    assert remarks[1].startswith("! kept as a survey only. No two-bend spool fits between these ports")
    assert remarks[2] == "straight pipe"
    said = client.get(save(client, job, "shots", preview)["Location"]).content.decode()
    assert "3 surveys are kept; 2 readings wait for the foreman. 1 can&#x27;t be joined" in said
    assert [survey.reading is not None for survey in Survey.objects.order_by("tie_in__mark")] == [True, False, True]
    assert Reading.objects.get(tie_in__mark="303").included_deg == 180.0


def test_the_survey_stands_for_no_jig_that_a_crew_could_choose(client, job):
    make_tie_in(job, "301")
    save(client, job, "shots", look_at(client, job, "shots", SHOTS.split("302,A", maxsplit=1)[0], unit="ft"))
    assert [jig["serial"] for jig in client.get("/field/book.json").json()["jigs"]] == ["J1"]


@pytest.mark.parametrize("which", ["tie-ins", "readings", "shots"])
def test_the_form_is_there_and_an_empty_list_is_asked_back(client, job, which):
    assert client.get(f"/jobs/{job.id}/import/{which}/").status_code == 200
    assert client.post(f"/jobs/{job.id}/import/{which}/", {}).status_code == 422
    assert (
        client.post(f"/jobs/{job.id}/import/{which}/save/", {"text": "mark\n1", "key": "12345678"}).status_code == 422
    )


def test_readings_taken_out_hold_what_was_typed(client, job):
    rows = client.get(f"/jobs/{job.id}/readings.csv").content.decode().splitlines()
    assert rows[0].startswith("mark,letter,jig")
    assert rows[1].startswith("214,A,J1,1,36 1/8,22 9/16,127.5,53,")


def test_somebody_else_s_job_is_not_there(client):
    assert client.get("/jobs/999/import/tie-ins/").status_code == 404
    assert client.get("/jobs/999/readings.csv").status_code == 404
