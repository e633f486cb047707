"""Steel tags: every slip of one digit and every swap of neighbors is caught, over all numbers."""

from spools.flow.tags import check_digit, is_good_tag, is_well_formed, never_issued, tag_number, upside_down

TAGS = [tag_number(number) for number in range(1, 10_000)]


def test_the_published_example_of_the_check_digit():
    # Damm 2004 by its public descriptions: 572 gets 4.
    assert check_digit("572") == 4


def test_every_single_wrong_digit_is_caught():
    slips = 0
    for tag in TAGS:
        for place in range(5):
            for digit in "0123456789":
                if digit != tag[place]:
                    slips += 1
                    assert not is_well_formed(tag[:place] + digit + tag[place + 1 :])
    assert slips == 9999 * 45


def test_every_swap_of_neighbors_is_caught():
    for tag in TAGS:
        for place in range(4):
            if tag[place] != tag[place + 1]:
                assert not is_well_formed(tag[:place] + tag[place + 1] + tag[place] + tag[place + 2 :])


def test_no_issued_tag_reads_as_another_valid_one_upside_down():
    issued = [tag for tag in TAGS if is_good_tag(tag)]
    assert len(issued) == 9999 - 36
    for tag in issued:
        turned = upside_down(tag)
        assert turned is None or turned == tag or not is_well_formed(turned)
    assert {"00101", "00196", "00609"} <= never_issued()


def test_what_is_not_five_digits_is_no_tag():
    for text in ("", "1234", "123456", "1234a", "١٢٣٤٥", " 12345"):
        assert not is_well_formed(text)
