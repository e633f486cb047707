"""The code of a load's link: good for one load and one version, and nobody makes one without the secret."""

from hypothesis import given
from hypothesis import strategies as st

from spools.flow.load_codes import LinkCode, read_code, write_code

NUMBERS, VERSIONS = st.integers(1, 10**12 - 1), st.integers(1, 9999)


@given(NUMBERS, VERSIONS)
def test_what_is_written_is_read_in_either_case(load_id, version):
    code = write_code(load_id, version, secret="ours")
    assert read_code(code.lower(), secret="ours") == LinkCode(load_id, version)
    assert read_code(code, secret="theirs") is None


@given(NUMBERS, NUMBERS, VERSIONS)
def test_a_proof_of_one_load_is_none_of_another(one, other, version):
    proof = write_code(one, version, secret="ours").rpartition("-")[2]
    assert (read_code(f"{other}-{version}-{proof}", secret="ours") is not None) == (one == other)


@given(st.text(max_size=60))
def test_any_other_text_opens_nothing(text):
    assert read_code(text, secret="ours") is None
