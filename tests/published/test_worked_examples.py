"""Every worked example of the trade, each with its own source, against what the product makes of it."""

import json
from pathlib import Path

import pytest

from geometry.lengths import parse_length
from tests.published import worked_bends, worked_checks, worked_rest

EXAMPLES = json.loads((Path(__file__).parent / "worked_examples.json").read_text(encoding="utf-8"))["examples"]

CASES = {
    "takeoff": worked_bends.takeoff,
    "elbow_arc": worked_bends.elbow_arc,
    "single_mitre": worked_bends.single_mitre,
    "multi_mitre": worked_bends.multi_mitre,
    "mitre_limit": worked_bends.mitre_limit,
    "rolling_offset": worked_bends.rolling_offset,
    "spool": worked_bends.spool,
    "closing_dimension": worked_checks.closing_dimension,
    "check_measure": worked_checks.check_measure,
    "fishmouth": worked_checks.fishmouth,
    "lateral_hole": worked_checks.lateral_hole,
    "weight": worked_rest.weight,
    "zinc": worked_rest.zinc,
    "grade": worked_rest.grade,
    "compound_angle": worked_rest.compound_angle,
    "feet_inch_fraction": worked_rest.feet_inch_fraction,
    "ends": worked_rest.ends,
}


def agree(found, expected, tolerance):
    """Compare numbers within the example's tolerance, texts of lengths exactly, and the rest as it is."""
    if isinstance(expected, dict):
        for key, value in expected.items():
            agree(found[key], value, tolerance)
    elif isinstance(expected, list):
        assert len(found) == len(expected)
        for one, value in zip(found, expected, strict=True):
            agree(one, value, tolerance)
    elif isinstance(expected, bool):
        assert found is expected
    elif isinstance(expected, str):
        assert parse_length(found).mm == parse_length(expected).mm
    else:
        assert found == pytest.approx(expected, abs=tolerance, rel=0)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example["id"])
def test_the_product_agrees_with_the_worked_example(example):
    found = CASES[example["topic"]](example["given"])
    agree(found, example["expected"], example["tolerance_abs"])


def test_every_example_has_exactly_one_case_and_no_case_is_without_examples():
    assert len({example["id"] for example in EXAMPLES}) == len(EXAMPLES) == 40
    assert {example["topic"] for example in EXAMPLES} == set(CASES)


def test_every_example_says_where_it_is_from():
    assert all(example["source"] and example["confidence"] for example in EXAMPLES)


def test_the_comparison_refuses_what_is_off_missing_or_unlike():
    for found, expected in (
        ({"a": 1.01}, {"a": 1.0}),
        ([1.0], [1.0, 2.0]),
        ({"a": '3-1/16"'}, {"a": '3 1/8"'}),
        ([False], [True]),
    ):
        with pytest.raises((AssertionError, ValueError)):
            agree(found, expected, 0.002)
    with pytest.raises(KeyError):
        agree({}, {"a": 1.0}, 0.002)
