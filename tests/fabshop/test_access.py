"""Nobody sees or changes what their role does not allow: every address stands in one table, and the table is walked."""

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from fabshop.access import OPEN, TABLE
from fabshop.navigation import HOME_OF, LINKS
from spools.flow.roles import Role
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_spool

pytestmark = pytest.mark.django_db


def patterns(resolver: URLResolver, prefix: str = "") -> list[tuple[str, str]]:
    found = []
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            if entry.namespace in {"admin", "api"}:
                continue
            found += patterns(entry, prefix + str(entry.pattern))
        elif isinstance(entry, URLPattern):
            found.append((entry.name or "", prefix + str(entry.pattern)))
    return found


ADDRESSES = patterns(get_resolver())
SAMPLES = {
    "int": "1",
    "str": "x",
    "slug": "due",
    "kind": "csv",
}


def address(pattern: str) -> str:
    plain = pattern.strip("^$")
    while "<" in plain:
        start, end = plain.index("<"), plain.index(">")
        kind, _, name = plain[start + 1 : end].partition(":")
        plain = plain[:start] + SAMPLES.get(name, SAMPLES[kind]) + plain[end + 1 :]
    return "/" + plain


def signed_in(*roles: Role) -> Client:
    client = Client()
    client.force_login(make_person(make_shop(), *roles), backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_every_address_has_a_name_and_a_row():
    missing = [(name, pattern) for name, pattern in ADDRESSES if name not in OPEN and name not in TABLE]
    assert missing == []


def test_no_row_is_left_without_an_address():
    names = {name for name, _ in ADDRESSES}
    assert set(TABLE) - names == set()


@pytest.mark.parametrize(("name", "pattern"), [a for a in ADDRESSES if a[0] not in OPEN], ids=lambda value: value)
def test_whoever_is_not_signed_in_is_asked_to(name, pattern):
    answer = Client().get(address(pattern))
    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("role", list(Role))
def test_a_role_gets_403_wherever_its_row_does_not_name_it(role):
    client = signed_in(role)
    for name, pattern in ADDRESSES:
        if name in OPEN:
            continue
        status = client.get(address(pattern)).status_code
        if role in TABLE[name]:
            assert status in {200, 302, 404, 405, 422}, (name, status)
        else:
            assert status == 403, (name, status)


def test_somebody_without_a_shop_gets_nowhere():
    from spools.models import Person

    nobody = Person.objects.create(username="nobody", roles=[role.value for role in Role])
    client = Client()
    client.force_login(nobody, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get("/floor/").status_code == 403


@pytest.mark.parametrize("role", list(Role))
def test_each_role_lands_on_its_own_page(role):
    answer = signed_in(role).get("/", follow=True)
    assert answer.status_code == 200
    assert role in TABLE[HOME_OF[role]]


def test_the_links_at_the_top_all_lead_somewhere():
    client = signed_in(*Role)
    assert all(name in TABLE for name, _ in LINKS)
    for _, url, _ in client.get("/jobs/").context["nav"]:
        assert client.get(url).status_code == 200


@pytest.mark.parametrize(
    "path",
    [
        "/spools/{spool}/",
        "/s/S{spool}-A/",
        "/readings/{reading}/",
        "/jobs/{job}/",
        "/field/{tie_in}/",
        "/jobs/{job}/tie-ins.csv",
        "/sheets/ticket/{spool}.pdf",
    ],
)
def test_another_shops_things_are_not_there(path):
    spool = make_spool()
    stranger = signed_in(*Role)
    ids = {"spool": spool.id, "reading": spool.reading_id, "job": spool.tie_in.job_id, "tie_in": spool.tie_in_id}
    assert stranger.get(path.format(**ids)).status_code == 404


def test_a_tap_after_the_sign_in_has_run_out_sends_the_whole_page_to_sign_in_and_back():
    headers = {"HX-Request": "true", "HX-Current-URL": "http://testserver/saw/?plan=7"}
    answer = Client().post("/saw/cuts/1/done/", headers=headers)
    assert (answer.status_code, answer["HX-Redirect"]) == (401, "/sign-in/?next=/saw/%3Fplan%3D7")


def test_a_program_s_writer_reads_the_api_on_one_page_that_loads_nothing_from_outside():
    client = Client()
    client.force_login(make_person(make_shop(), Role.MANAGER), backend="django.contrib.auth.backends.ModelBackend")
    page = client.get("/api/docs/")
    assert page.status_code == 200
    assert b"https://" not in page.content
    assert "style-src 'self' 'unsafe-inline'" in page["Content-Security-Policy"]
    assert client.get("/setup/").content.count(b"/api/docs/") == 1
