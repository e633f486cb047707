"""The solid that a page turns is the stored solution's: plain JSON, for every make-up, in the job's own units."""

import json
from random import Random

import pytest
from django.test import Client
from django.urls import reverse

from spools.flow.roles import Role
from spools.queries.spool_solid import solid_values
from spools.say_lengths import say_length
from tests.cutlists.papers.random_spools import MAKE_UPS, random_spool, two_jobs
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_spool

pytestmark = pytest.mark.django_db
SPOOLS = 18


def test_every_random_spool_makes_whole_json_with_its_stored_measures():
    jobs, dice, kinds = two_jobs(), Random(7), set()
    for number in range(SPOOLS):
        spool = random_spool(dice, jobs[number % 2], f"R{number}")
        values = solid_values(spool)
        assert json.loads(json.dumps(values, allow_nan=False))
        texts = {one["text"] for one in values["measures"]}
        job = spool.tie_in.job
        assert f"C {say_length(spool.check_mm, job.units, job.graduation)}" in texts
        assert {f"cut {p.mark} {say_length(p.cut_mm, job.units, job.graduation)}" for p in _sawn(spool)} <= texts
        kinds.add(spool.bend_kind)
    assert kinds == {kind for kind, _ in MAKE_UPS}


def _sawn(spool):
    return spool.pieces.filter(sawn=True)


def test_a_shop_sees_only_its_own():
    spool = make_spool()
    address = reverse("spool-solid", args=[spool.id])
    for shop, status in ((spool.shop, 200), (make_shop("Elsewhere"), 404)):
        client = Client()
        person = make_person(shop, Role.FITTER)
        client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
        assert client.get(address).status_code == status
    assert Client().get(address).status_code == 302
