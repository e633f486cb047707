"""Why a length was refused, and two right ways to write it."""

import re

_TWO_WAYS = {
    "in": '3\' 4-5/16" or 40-5/16"',
    "ft": "3.36 ft or 3' 4-5/16\"",
    "mm": "1024 mm or 1.024 m",
    "m": "1.024 m or 1024 mm",
}


def refusal(plain: str, unit: str) -> str:
    """Return the words for a length in plain text that the grammar refused; bare numbers are in `unit`."""
    shown = f'"{plain}"'
    if found := re.fullmatch(r"([0-9]+) ?[- ] ?([0-9]+)\"?", plain):
        return _two_numbers(shown, int(found[1]), int(found[2]))
    if (found := re.fullmatch(r"([0-9]+)[- ]([0-9]+)[- ]([0-9]+/[0-9]+)\"?", plain)) and int(found[2]) < 12:
        first, second, part = found.groups()
        return f'{shown} can be read in two ways: write {first}\' {second}-{part}" or {first}{second}-{part}".'
    if (found := re.fullmatch(r"([0-9]+)/([0-9]+)\"?", plain)) and int(found[2]) in _TAPE_DENOMINATORS:
        return _over_one_inch(shown, found[1], found[2])
    if "," in plain:
        return f'{shown} has a comma, a point to some and not to others: write 40.5 or 40-1/2".'
    for pattern, words in _REASONS:
        if re.search(pattern, plain):
            return f"{shown} {words}."
    return f"{shown} is not a length we can read for sure: write {_TWO_WAYS[unit]}."


def _two_numbers(shown: str, first: int, second: int) -> str:
    feet = f"{first}' {second}\""
    if second in _TAPE_DENOMINATORS and first < second:
        if second >= 12:
            return f'{shown} can be {first}/{second}" or two numbers: write {first}/{second}" or 3\' 4".'
        return f'{shown} can be {feet} or {first}/{second}": write {feet} or {first}/{second}".'
    if second < 12:
        return f'{shown} can be feet and inches or two numbers: write {feet} or {first * 12 + second}".'
    return f'{shown} is two numbers, not one length: write 3\' 4" or 40".'


def _over_one_inch(shown: str, over: str, under: str) -> str:
    """21/16 is 2-1/16 with the blank lost as often as 1-5/16."""
    whole, rest = divmod(int(over), int(under))
    meant = f'{whole}-{rest}/{under}"' if rest else f'{whole}"'
    if len(over) > 1 and 0 < int(over[1:]) < int(under):
        return (
            f'{shown} can be {over[0]}-{over[1:]}/{under}" or {meant}: write {over[0]}-{over[1:]}/{under}" or {meant}.'
        )
    return f"{shown} has a fraction of one inch or more: write {meant} or {int(over) / int(under):g}."


_TAPE_DENOMINATORS = (2, 4, 8, 16, 32, 64)

_REASONS = (
    (r"nan|inf|[0-9]e[0-9+-]", 'is not a number from a tape: write 40.3125 or 40-5/16"'),
    (r"^[-+]", 'has a sign before it: write 3\' 4-5/16" or 40-5/16"'),
    (r"\.[0-9]* ?(?:'|ft|feet|foot).*[0-9]", "mixes decimal feet with inches: write 3.5 ft or 3' 6\""),
    (r"^[0-9]+-(?:1[2-9]|[2-9][0-9]|[0-9]{3,})-", 'has 12 inches or more after the feet: write 4\' 2" or 50"'),
    (
        r"(?:'|ft\.?|feet|foot)[ -]*(?:1[2-9]|[2-9][0-9]|[0-9]{3,})(?![0-9]*/)",
        'has 12 inches or more after the feet: write 4\' 2" or 50"',
    ),
    (r"[0-9]/[0-9]+ ?(?:'|ft|feet|foot)", "has a fraction of a foot: write 3' 6\" or 3.5 ft"),
    (r"[0-9]/[0-9]+ ?(?:mm|cm|m)", 'has a fraction of a metric unit: write 10.5 mm or 3/8"'),
    (r"(?:- | -)[0-9]+/[0-9]|- [0-9]+ - ", 'could be a difference: write 4-5/16" or 4 5/16"'),
    (r"/", "has a fraction that a tape doesn't have or in the wrong place: write 4-5/16\" or 4.3125"),
    (r"\.$|\.[^0-9]", 'ends its number with a point: write 40.5 or 40-1/2"'),
)
