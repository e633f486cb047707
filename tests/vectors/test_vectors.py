"""The geometry still answers as the committed vectors say: the phone is held to the same file in tests/browser."""

import json
from pathlib import Path

import pytest

from tests.vectors.answers import ANSWERS

HERE = Path(__file__).parent
NEAR = 1e-6


def vectors(name: str) -> list[dict]:
    return json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))


def differences(want, got, path=""):
    if isinstance(want, float) and isinstance(got, float):
        return [] if abs(want - got) <= NEAR * max(1.0, abs(want)) else [f"{path}: {want} and {got}"]
    if isinstance(want, dict) and isinstance(got, dict) and want.keys() == got.keys():
        return [each for key in want for each in differences(want[key], got[key], f"{path}.{key}")]
    if isinstance(want, list) and isinstance(got, list) and len(want) == len(got):
        return [
            each
            for place, pair in enumerate(zip(want, got, strict=True))
            for each in differences(*pair, path + f"[{place}]")
        ]
    return [] if want == got else [f"{path}: {want} and {got}"]


@pytest.mark.parametrize("name", sorted(ANSWERS))
def test_the_geometry_answers_as_the_vectors_say(name):
    rows = vectors(name)
    found = [
        each
        for place, row in enumerate(rows)
        for each in differences(row["answer"], json.loads(json.dumps(ANSWERS[name](row["given"]))), f"{name}[{place}]")
    ]
    assert found == []


def test_there_are_at_least_500_vectors_and_every_kind_of_finding_is_among_them():
    assert sum(len(vectors(name)) for name in ANSWERS) >= 500
    codes = {finding["code"] for row in vectors("checks") for finding in row["answer"].get("findings", [])}
    assert codes == {
        "no_check_measure",
        "does_not_close",
        "leg_not_seen",
        "swap_not_seen",
        "included_hardly_seen",
        "sharp_or_gentle",
        "over_spool_tolerance",
        "mark_beyond_end",
    }
