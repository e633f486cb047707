"""What the command line can't read: exit 2 and one line, never a traceback."""

import copy
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.request import json_request
from geometry.worked import work
from tests.geometry.requests import request, run


@pytest.fixture
def ask(monkeypatch, capsys):
    """Run the command on a request."""
    return lambda asked, *arguments: run(asked, *arguments, monkeypatch=monkeypatch, capsys=capsys)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        "3",
        '"text"',
        "{}",
        '{"pipe": {"nps": NaN}}',
        '{"a": Infinity}',
        '{"a": 1, "a": 2}',
        "[" * 100_000,
        '{"a":' * 100_000,
        '{"a": ' + "9" * 5000 + "}",
        '{"readings": ' + "[" * 50 + "]" * 50 + "}",
        b"\xff\xfe\x00",
        b"\x80abc",
        json.dumps(request(pipe=[])),
        json.dumps(request(pipe={"nps": {"a": 1}, "schedule": "40"})),
        json.dumps(request(pipe__nps="4.3")),
        json.dumps(request(pipe__schedule="41")),
        json.dumps(request(readings="3' 4")),
        json.dumps(request(readings__leg_a=None)),
        json.dumps(request(readings__leg_a=True)),
        json.dumps(request(readings__leg_a=["40"])),
        json.dumps(request(readings__leg_a="3-4")),
        json.dumps(request(readings__leg_a="40,5")),
        json.dumps(request(readings__leg_a="3'-14\"")),
        json.dumps(request(readings__leg_a=1e300)),
        json.dumps(request(readings__leg_a=10**400)),
        '{"pipe":{"nps":"4","schedule":"40"},"readings":1e999}',
        json.dumps(request(readings__included_angle="about 140")),
        json.dumps(request(readings__included_angle=None)),
        json.dumps(request(bend__kind="glue")),
        json.dumps(request(bend__kind=3)),
        json.dumps(request(bend__welds=1.5)),
        json.dumps(request(bend__radius="medium")),
        json.dumps(request(ends=None)),
        json.dumps(request(ends__a__prep="welded")),
        json.dumps(request(ends__a__coupling="soft")),
        json.dumps(request(units="furlong")),
        json.dumps(request(graduation="1/20")),
        json.dumps(request(propose="yes")),
        json.dumps(request(wraps={"lines": 7})),
        json.dumps(request(wraps=5)),
        json.dumps(request(jig={"least_included": 190})),
        json.dumps(request(readings=None, line={"legs": [], "turns": []})),
        json.dumps(request(readings=None, line={"legs": ["40", "30"], "turns": [0]})),
        json.dumps(request(readings=None, line={"legs": "40", "turns": [30]})),
        json.dumps(request(readings=None, line={"legs": ["40", "30"], "turns": [30]}, bends=[3])),
        json.dumps({"pipe": {"nps": "4", "schedule": "40"}, "saddle": {"main": {"od": "2", "wall": "1/4"}}}),
    ],
    ids=lambda value: str(value)[:40],
)
def test_what_cannot_be_read_leaves_with_2_and_one_line(ask, text):
    said = ask(text)
    assert said.code == 2
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert "Traceback" not in said.err
    assert len(said.err.strip()) > 5


def answered_or_refused(raw):
    """Return an answer's JSON or a refusal's words; anything else is a crash and fails the test."""
    try:
        return json.dumps(work(json_request(raw)).values, allow_nan=False)
    except ValueError as refused:
        return str(refused)


ANY = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
PLACES = st.sampled_from(
    [
        "pipe",
        "pipe__nps",
        "readings",
        "readings__leg_a",
        "readings__burn",
        "readings__included_angle",
        "readings__d",
        "readings__closing",
        "bend",
        "bend__kind",
        "bend__welds",
        "bend__bend_radius",
        "ends",
        "ends__a",
        "ends__b__prep",
        "ends__a__on_main",
        "ends__a__field_trim",
        "root_gap",
        "kerf",
        "jig",
        "units",
        "graduation",
        "material",
        "wraps",
        "line",
        "bends",
        "saddle",
        "propose",
        "in_space",
        "galvanized",
        "misclosure_accepted",
        "line_live",
        "sigmas",
        "sigmas__tape",
        "sigmas__protractor",
        "fit",
        "fit__cut",
        "fit__fit_up_turn",
        "fit__built_to",
        "survey",
        "galvanized__closed",
        "galvanized__pads",
        "galvanized__work_after",
        "rolling",
        "grade",
    ]
)


@given(place=PLACES, value=ANY)
@settings(max_examples=300, deadline=None)
def test_any_value_in_any_place_is_answered_or_refused_in_words(place, value):
    said = answered_or_refused(json.dumps(request(**{place: value})).encode())
    assert said


@given(st.binary(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_json_or_refused_in_one_line(raw):
    assert "\n" not in answered_or_refused(raw)


BY_ITSELF = {
    "survey": {"a": {"shots": [[-24, 0, 0], [0, 0, 0]]}, "b": {"port": [60, 30, 5], "along": [-1, -1, 0]}},
    "line": {"legs": [40, 40, 40], "turns": [30, 40], "twists": [20]},
    "saddle": {"main": {"od": "12.75", "wall": "3/8", "included_angle": 45, "offset": 1}},
    "rolling": {"set": 14, "roll": 9.5, "turn": 45, "leg_a": 24, "leg_b": 24},
    "grade": {"run": 100, "slope": 0.25, "plan_included_angle": 45},
}
KEYS = [
    *(f"survey__{side}__{key}" for side in "ab" for key in ("shots", "port", "along")),
    *("survey__sigma", "survey__joints_take", "line__legs", "line__turns", "line__twists", "line__closing"),
    *(f"saddle__main__{key}" for key in ("nps", "od", "wall", "included_angle", "offset", "seat", "edge")),
    *(f"rolling__{key}" for key in ("set", "roll", "turn", "leg_a", "leg_b")),
    *(f"grade__{key}" for key in ("run", "slope", "plan_included_angle", "main_slope")),
]
COORDINATES = st.lists(st.lists(st.floats(-1e12, 1e12) | st.integers(-3, 3), min_size=3, max_size=3), max_size=3)


@given(key=st.sampled_from(KEYS), value=ANY | COORDINATES, bends=st.sampled_from([None, [], [{}], [{}, {}], 3]))
@settings(max_examples=300, deadline=None)
def test_any_value_in_any_place_of_the_other_ways_is_answered_or_refused_in_words(key, value, bends):
    way = key.split("__")[0]
    asked = request(readings=None, bends=bends, **{way: copy.deepcopy(BY_ITSELF[way])})
    part = asked
    for name in key.split("__")[:-1]:
        part = part[name]
    part[key.split("__")[-1]] = value
    assert answered_or_refused(json.dumps(asked).encode())


@pytest.mark.parametrize("digits", ["４０", "٤٠", "४०", "4０", "⁴⁰", "④"])
def test_digits_of_other_scripts_never_become_a_wrong_number(ask, digits):
    said = ask(request(readings__leg_b=digits))
    assert said.code == 2 or said.answer["legs_mm"]["b"] == pytest.approx(40 * 25.4)
    assert ask(request(readings__included_angle=digits)).code != 0


def test_mixed_units_are_read_as_each_is_written(ask):
    said = ask(
        request(
            units="mm",
            readings__leg_a="3' 4-5/16\"",
            readings__leg_b=708.025,
            readings__burn="4 in",
            readings__set_point=101.6,
            readings__closing="1.641475 m",
            root_gap="2.38125 mm",
        )
    )
    assert said.code == 0
    assert said.answer["legs_mm"] == pytest.approx({"a": 1023.9375, "b": 708.025})


def test_bare_text_in_a_metric_request_is_asked_back(ask):
    said = ask(request(units="mm", readings__leg_a="40", readings__burn=0, readings__set_point=0))
    assert said.code == 2
    assert "has no unit" in said.err
