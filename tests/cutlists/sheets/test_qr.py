"""QR codes as stored text."""

from itertools import pairwise

import segno

from cutlists.sheets.qr import encode, runs

ADDRESS = "HTTPS://SHOP.EXAMPLE/T/7K2QB"


def test_the_stored_matrix_is_the_encoders_own() -> None:
    code = segno.make(ADDRESS, error="q", boost_error=True, micro=False)
    side, dark = runs(encode(ADDRESS))
    cells = {(row, column + k) for row, column, length in dark for k in range(length)}
    expected = {(y, x) for y, line in enumerate(code.matrix) for x, bit in enumerate(line) if bit}
    assert side == len(code.matrix)
    assert cells == expected


def test_runs_never_touch_within_a_row() -> None:
    _, dark = runs(encode(ADDRESS))
    for (row, start, length), (next_row, next_start, _) in pairwise(dark):
        assert next_row > row or next_start > start + length


def test_an_upper_case_address_takes_a_smaller_code_at_the_same_or_better_correction() -> None:
    upper = segno.make(ADDRESS, error="q", boost_error=True, micro=False)
    lower = segno.make(ADDRESS.lower(), error="q", boost_error=True, micro=False)
    assert upper.version < lower.version
    assert upper.error in {"Q", "H"}


def test_lower_case_is_raised_to_upper_case() -> None:
    assert encode(ADDRESS.lower()) == encode(ADDRESS)
