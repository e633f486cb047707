"""``manage.py demo --no-serve``: plays once, tells what is there, and never plays twice."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import transaction

from cutlists.demo.people import DEMO_WORD, SIGN_INS
from fabshop.management.commands.demo import throw_away
from spools.actions.rebuild_status import rebuild_status
from spools.models import Event, Shop, WorkedDay
from tests.factories.people import make_shop

AT = "2026-03-12T10:00"  # a Thursday, four days after the change to summer time; its month has two worked Saturdays
pytestmark = pytest.mark.django_db


def run_demo() -> str:
    """Run the command and return what it wrote."""
    out = StringIO()
    call_command("demo", "--no-serve", "--port", "8123", "--at", AT, stdout=out)
    return out.getvalue()


@pytest.fixture(scope="module")
def told(django_db_setup, django_db_blocker, tmp_path_factory) -> Iterator[str]:
    """What the command wrote on an empty database; everything is rolled back after the file's last test."""
    before, settings.PAPERS_DIR = settings.PAPERS_DIR, tmp_path_factory.mktemp("papers")
    with django_db_blocker.unblock(), transaction.atomic():
        yield run_demo()
        transaction.set_rollback(True)
    settings.PAPERS_DIR = before


def test_it_tells_totals_that_add_up(told):
    assert "312 tie-ins: 64 not measured, 248 measured" in told
    assert "158 delivered, 14 back in the yard, 31 at the galvanizer, 45 in the shop" in told
    assert "84 %, 186 of 221" in told
    assert "30 of 38, 34 of 52, 62 of 66, 60 of 65; 6 open and late, 27 not due" in told


def test_on_another_date_every_projection_is_what_its_events_lead_to(told):
    assert "As of Wed 11 Mar 2026 16:30" in told
    assert WorkedDay.objects.count() == 2
    assert rebuild_status(write=False) == []


def test_it_names_the_addresses_and_every_sign_in(told):
    assert "http://127.0.0.1:8123/" in told
    assert DEMO_WORD in told
    assert all(sign_in in told for _, sign_in in SIGN_INS)


def test_it_prints_papers_into_the_folder_that_it_names(told):
    folder = Path(re.search(r"Papers of the next morning in (.+):", told).group(1))
    for name, pages in re.findall(r"  (\w+\.pdf) \((\d+) pages\)", told):
        assert (folder / name).read_bytes().startswith(b"%PDF")
        assert int(pages) > 0
    assert "tickets.pdf (24 pages)" in told


def test_run_again_it_says_so_and_adds_nothing(told):
    before = (Shop.objects.count(), Event.objects.count())
    again = run_demo()
    assert "here already" in again
    assert "--reset" in again
    assert "Open http://127.0.0.1:8123/" in again
    assert (Shop.objects.count(), Event.objects.count()) == before


def test_a_database_with_another_shop_is_never_thrown_away():
    make_shop("Somebody Else's Shop")
    with pytest.raises(CommandError, match="Somebody Else's Shop"):
        throw_away()
    assert Shop.objects.filter(name="Somebody Else's Shop").exists()


RESET = """
import django
django.setup()
from django.core.management import call_command
from cutlists.demo.scenario import SHOP
from fabshop.management.commands.demo import throw_away
from spools.models import Shop
call_command("migrate", verbosity=0)
Shop.objects.create(name=SHOP)
throw_away()
call_command("migrate", verbosity=0)
print("shops left:", Shop.objects.count())
"""


def test_a_reset_begins_with_a_new_database_file(tmp_path):
    own = {"FABSHOP_VAR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "fabshop.settings", "PATH": os.environ["PATH"]}
    done = subprocess.run([sys.executable, "-c", RESET], env=own, capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "shops left: 0", done.stderr
