"""What a keyboard, a phone or a pasted drawing puts in a length, brought down to plain ASCII.

Every change here keeps the value. Characters that could change it (circled or raised digits, digits of other
scripts, invisible marks) are refused, which is why this is a list of our own and not Unicode's NFKC.
"""

import re
import unicodedata

from geometry.lengths.errors import LengthError

LONGEST_TEXT = 60
"""Characters; the longest form in use, `3 feet 4 and 5/16 inches`, has 24."""

_PRIMES = "’‘‛′ʹʼʻ´`ˈ"
_DOUBLE_PRIMES = "”“„‟″ʺ˝〃"
_DASHES = "‐‑‒–—―−﹣"
_SLASHES = "⁄∕"
_BLANKS = "\t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_EDGE_MARKS = "\ufeff\u200b\u200e\u200f\u2060"

_PLAIN = str.maketrans(
    dict.fromkeys(_PRIMES, "'")
    | dict.fromkeys(_DOUBLE_PRIMES, '"')
    | dict.fromkeys(_DASHES, "-")
    | dict.fromkeys(_SLASHES, "/")
    | dict.fromkeys(_BLANKS, " ")
    | {chr(wide): chr(wide - 0xFEE0) for wide in range(0xFF01, 0xFF5F)}
    | {"㎜": "mm", "㎝": "cm", "㍍": "m", "㏌": "in"}
)

_SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_SUBSCRIPTS = "₀₁₂₃₄₅₆₇₈₉"
_SMALL_TO_DIGIT = str.maketrans(_SUPERSCRIPTS + _SUBSCRIPTS, "0123456789" * 2)
_RAISED_FRACTION = re.compile(f"(-?)([{_SUPERSCRIPTS}]+)/([{_SUBSCRIPTS}]+|[0-9]+)")
_FRACTION_SIGN = re.compile("(-?)([¼½¾⅐-⅞]|⅟(?=[0-9]))")

TWO_WAYS = '3\' 4-5/16" or 40-5/16"'


def plain_text(text: str) -> str:
    """Return `text` in plain ASCII lower case with single blanks.

    A vulgar or raised fraction gets a blank before it, so that 4½ never becomes 41/2.

    >>> plain_text("3’ 4⅝"), plain_text("4⁵⁄₁₆ IN.")
    ("3' 4 5/8", '4 5/16 in.')

    Raises LengthError for text that is empty, too long or holds a character that has no sure plain form.
    """
    if len(text) > LONGEST_TEXT:
        raise LengthError(f"That is {len(text)} characters, more than one length: write {TWO_WAYS}.")
    bare = text.strip().strip(_EDGE_MARKS).strip()
    if not bare:
        raise LengthError(f"Nothing is written: write {TWO_WAYS}.")
    plain = _RAISED_FRACTION.sub(_raised, bare.translate(_PLAIN))
    plain = _FRACTION_SIGN.sub(_written_out, plain)
    strange = next((char for char in plain if not " " <= char <= "~"), None)
    if strange is not None:
        raise LengthError(f'"{_shown(strange)}" can\'t be read in a length: write {TWO_WAYS}.')
    return re.sub(r" +", " ", plain.replace("''", '"')).strip().lower()


def _raised(found: re.Match[str]) -> str:
    over, under = (part.translate(_SMALL_TO_DIGIT) for part in found.groups()[1:])
    return f"{found[1] or ' '}{over}/{under} "


def _written_out(found: re.Match[str]) -> str:
    """Write a fraction sign out; U+215F is only "1/" and keeps the digits that follow it."""
    points = unicodedata.decomposition(found[2]).split()[1:]
    written = "".join(chr(int(point, 16)) for point in points).replace("⁄", "/")
    return f"{found[1] or ' '}{written}{'' if written.endswith('/') else ' '}"


def _shown(char: str) -> str:
    if char in "\r\n":
        return "line break"
    return char if char.isprintable() else unicodedata.name(char, f"U+{ord(char):04X}").lower()
