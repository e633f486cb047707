"""Bars come in with their heat, each once, under a tag of its own."""

import pytest

from cutlists.models import StockBar, StockEvent
from cutlists.stockroom import next_tags
from spools.flow.roles import Role
from spools.models import Heat
from tests.cutlists.conftest import refused
from tests.factories.people import make_person, make_shop
from tests.factories.stock import SINGLE_MM


def test_each_bar_gets_a_tag_its_length_and_its_heat(saw):
    bars = saw.bars(2, lengths_mm=[6400.8, 6413.5], heat=" 7k2214 ", rack="R1")
    assert [(bar.tag, bar.length_u, bar.heat.number, bar.rack) for bar in bars] == [
        ("B0001", 2048256, "7K2214", "R1"),
        ("B0002", 2052320, "7K2214", "R1"),
    ]
    assert [event.length_u for event in StockEvent.objects.order_by("id")] == [2048256, 2052320]


def test_the_same_key_again_gives_the_same_bars(saw):
    first = saw.bars(2, key="key-of-the-truck")
    assert saw.bars(2, key="key-of-the-truck") == first
    assert StockBar.objects.count() == 2


def test_drops_from_elsewhere_are_tagged_as_drops(saw):
    (drop,) = saw.bars(1, lengths_mm=[1400.0], nominal_mm=0)
    assert (drop.tag, drop.is_drop, drop.nominal_u) == ("D0001", True, 0)


def test_tags_go_on_past_four_digits(saw):
    bar = saw.bars(1)[0]
    StockBar.objects.filter(id=bar.id).update(tag="B9999")
    assert saw.bars(1)[0].tag == "B10000"
    assert next_tags(saw.shop.id, 2, drop=False) == ["B10001", "B10002"]


def test_shops_count_their_tags_apart(saw):
    saw.bars(3)
    other = make_shop("Other")
    assert next_tags(other.id, drop=False) == ["B0001"]


def test_a_length_is_never_booked_longer_than_it_was_typed(saw):
    (bar,) = saw.bars(1, lengths_mm=[6400.8 + 0.001])
    assert bar.length_u == 2048256


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"nps": "5 1/2"}, "nps"),
        ({"schedule": "41"}, "nps"),
        ({"lengths_mm": []}, "lengths"),
        ({"lengths_mm": [SINGLE_MM, 0.0]}, "lengths"),
        ({"lengths_mm": [SINGLE_MM] * 501}, "lengths"),
        ({"material": " "}, "material"),
        ({"heat": "7" * 31}, "heat"),
        ({"nominal_mm": -1.0}, "nominal"),
    ],
)
def test_what_can_not_be_received_says_which_field(saw, fields, named):
    refusal = refused(lambda: saw.bars(1, **fields))
    assert (refusal.code, list(refusal.fields)) == ("invalid", [named])
    assert not StockBar.objects.exists()


def test_a_heat_that_came_as_another_material_is_questioned(saw):
    saw.bars(1, heat="7K2214")
    refusal = refused(lambda: saw.bars(1, heat="7K2214", material="A106 B"))
    assert "came as A53 B before" in refusal.fields["heat"]
    assert Heat.objects.count() == 1


def test_only_the_saw_and_the_foreman_receive(saw):
    driver = make_person(saw.shop, Role.DRIVER)
    assert refused(lambda: saw.bars(1, person=driver)).code == "not_your_role"
