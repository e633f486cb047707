"""The page of papers: every sheet that can be printed now, on the paper that is in the printer, and packets of many."""

import pytest
from django.test import Client
from django.urls import reverse

from cutlists.models import PaperJob
from cutlists.sheets.frame import A4, LETTER, Paper
from spools.flow.roles import Role
from spools.models import Bench, Load, LoadLine, Spool
from tests.cutlists.sheets.pdf_reading import open_pdf
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db
MM = 25.4 / 72


def signed_in(spool: Spool, *roles: Role) -> Client:
    """A client of somebody with these roles in the spool's shop."""
    client = Client()
    client.force_login(make_person(spool.shop, *roles), backend="django.contrib.auth.backends.ModelBackend")
    return client


def a_shop() -> Spool:
    """A shop with one of everything that a sheet can be printed of; returns its spool."""
    job = make_job(make_shop())
    make_set_points(job.shop)
    spool = make_spool("214", job=job)
    make_tie_in(job, "215")
    Bench.objects.create(shop=job.shop, name="3")
    load = Load.objects.create(
        shop=job.shop,
        number=7,
        kind="coating",
        going_to="Zinc",
        made_by=make_person(job.shop),
        made_at=NOON,
        key=make_key(),
    )
    LoadLine.objects.create(load=load, spool=spool)
    return spool


def addresses(spool: Spool) -> list[str]:
    """Every sheet that the page and the spool's page lead to."""
    load, bench, jig = spool.load_lines.get().load, spool.shop.benches.get(), spool.shop.jigs.get()
    main = spool.tie_in.main
    return [
        *(reverse("sheet", args=[code, spool.id]) for code in ("ticket", "spool_sheet", "turnover")),
        reverse("load-sheet", args=[load.id]),
        reverse("bench-list", args=[bench.id]),
        reverse("jig-slip", args=[jig.id]),
        reverse("field-log", args=[main.id]),
        reverse("turnover", args=[main.job_id]),
        reverse("promise-report"),
    ]


@pytest.mark.parametrize("paper", [pytest.param(LETTER, id="letter"), pytest.param(A4, id="a4")])
def test_every_sheet_comes_on_the_paper_that_was_chosen(paper: Paper) -> None:
    spool = a_shop()
    client = signed_in(spool, Role.FOREMAN)
    client.get(reverse("papers"), {"paper": paper.code})
    for address in addresses(spool):
        answer = client.get(address)
        assert answer.status_code == 200, address
        width, height = open_pdf(answer.content)[0].get_size()
        assert sorted((width * MM, height * MM)) == pytest.approx([paper.width_mm, paper.height_mm], abs=0.1), address


def test_the_page_offers_every_sheet_that_it_can_print() -> None:
    spool = a_shop()
    page = signed_in(spool, Role.FOREMAN).get(reverse("papers")).content.decode()
    for address in addresses(spool)[3:]:
        assert f'href="{address}"' in page


def test_a_driver_is_offered_loads_only() -> None:
    spool = a_shop()
    page = signed_in(spool, Role.DRIVER).get(reverse("papers")).content.decode()
    assert reverse("load-sheet", args=[spool.load_lines.get().load_id]) in page
    assert reverse("bench-list", args=[spool.shop.benches.get().id]) not in page


@pytest.mark.parametrize("junk", ["?paper=a3", "?for=nothing", "?paper=%00"])
def test_an_unknown_paper_or_list_is_refused_in_words(junk: str) -> None:
    answer = signed_in(a_shop(), Role.FOREMAN).get(reverse("papers") + junk)
    assert answer.status_code in {404, 422}


def test_another_shops_things_are_not_found() -> None:
    spool, client = a_shop(), Client()
    stranger = make_person(make_shop("Other Pipe"), Role.FOREMAN)
    client.force_login(stranger, backend="django.contrib.auth.backends.ModelBackend")
    assert {client.get(address).status_code for address in addresses(spool)[:-1]} == {404}


@pytest.mark.parametrize(("sheet", "pages"), [("cut_ticket", 3), ("spool_sheet", 1)])
def test_a_packet_is_asked_for_drawn_and_handed_out(
    sheet: str, pages: int, settings, django_capture_on_commit_callbacks
) -> None:
    settings.CELERY_TASK_ALWAYS_EAGER = True
    spool = a_shop()
    client = signed_in(spool, Role.FOREMAN)
    posted = {"sheet": sheet, "paper": "a4", "spool": [spool.id], "key": make_key() * 2}
    with django_capture_on_commit_callbacks(execute=True):
        first = client.post(reverse("paper-new"), posted)
    again = client.post(reverse("paper-new"), posted)
    assert first.url == again.url
    job = PaperJob.objects.get()
    assert (job.state, job.done_count) == ("done", 1)
    answer = client.get(reverse("paper-file", args=[job.id]))
    assert len(open_pdf(b"".join(answer.streaming_content))) == pages
