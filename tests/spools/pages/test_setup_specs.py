"""The page of pipe specs: what new tie-ins start with, beside the pipe table's own figures."""

import pytest

from spools.flow.roles import Role
from spools.imports.table import read_table
from spools.imports.tie_ins import HEADINGS, check_tie_ins
from spools.models import PipeSpec, Shop, TieIn
from spools.queries.imports import known_job
from tests.factories.jobs import make_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def foreman(sign_in):
    return sign_in(Role.FOREMAN)


SPEC = {
    "nps": "8",
    "schedule": "80",
    "material": "A106 B",
    "end_a": "beveled",
    "end_b": "beveled",
    "bend_kind": "trimmed_elbow",
}


def test_a_pipe_spec_shows_the_pipe_s_own_figures(foreman, spool):
    foreman.post(f"/setup/jobs/{spool.tie_in.job_id}/specs/new/", SPEC)
    page = foreman.get("/setup/specs/").content.decode()
    assert "A106 B" in page
    assert "8.625 in" in page  # ASME B36.10M: NPS 8 is 8.625 OD, and 0.500 wall in Sch 80
    assert "0.500 in" in page
    assert "43.4" in page  # 10.69 (8.625 - 0.500) 0.500 = 43.43 lb/ft by the inch formula of the same standard
    assert "This job has tie-ins of NPS 6 without a spec." in page


def test_a_new_tie_in_starts_with_the_spec_of_its_size(foreman, spool):
    job = spool.tie_in.job
    foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC)
    form = foreman.get(f"/jobs/{job.id}/tie-ins/new/?nps=8").context["form"]
    assert {name: form[name].value() for name in SPEC} == SPEC


def test_a_list_that_leaves_a_column_empty_takes_it_from_the_spec(foreman, spool):
    job = spool.tie_in.job
    foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC)
    text = "mark,station,side,nps,schedule\n900,12+00,left,8,\n901,12+10,left,6,\n902,12+20,left,8,40\n"
    found = check_tie_ins(read_table(text.encode(), known=HEADINGS), known_job(job))
    new = [row.value.new for row in found.good]
    assert [(one.schedule, one.material, one.end_b) for one in new] == [
        ("80", "A106 B", "beveled"),
        ("40", "A53 B", "grooved"),
        ("40", "A106 B", "beveled"),
    ]


def test_a_spec_changed_or_taken_away_changes_no_tie_in(foreman, spool):
    job = spool.tie_in.job
    foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC | {"nps": "6"})
    spec = PipeSpec.objects.get()
    before = TieIn.objects.values().get()
    foreman.post(f"/setup/jobs/{job.id}/specs/{spec.id}/", SPEC | {"nps": "6", "schedule": "40"})
    assert PipeSpec.objects.get().schedule == "40"
    foreman.post(f"/setup/jobs/{job.id}/specs/{spec.id}/drop/")
    assert not PipeSpec.objects.exists()
    assert TieIn.objects.values().get() == before


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"schedule": "17"}, "17"),
        ({"material": ""}, "This field is required."),
        ({"nps": "6"}, "has its spec on this job already"),
    ],
)
def test_a_spec_that_can_not_be_is_asked_back(foreman, spool, change, words):
    job = spool.tie_in.job
    foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC | {"nps": "6"})
    page = foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC | change)
    assert page.status_code == 422
    assert words in page.content.decode()
    assert PipeSpec.objects.count() == 1


def test_a_spec_of_another_shop_s_job_is_not_there(foreman):
    job = make_job(Shop.objects.create(name="Elsewhere"))
    assert foreman.post(f"/setup/jobs/{job.id}/specs/new/", SPEC).status_code == 404
