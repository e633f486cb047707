"""The scales a draughtsman would take, largest first, and how they are written."""

from geometry.lengths import Graduation

_METRIC = (1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500)
# Inches of paper for one foot, the marks of an architect's scale, and plain ratios between them.
_US = (1, 2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 80, 96, 128, 160, 192, 240, 384, 480)
_US_WORDS = {4: '3" = 1\'', 8: '1-1/2" = 1\'', 12: '1" = 1\'', 16: '3/4" = 1\'', 24: '1/2" = 1\'', 32: '3/8" = 1\'',
             48: '1/4" = 1\'', 96: '1/8" = 1\''}  # fmt: skip


def scales_from(largest: float, graduation: Graduation) -> tuple[float, ...]:
    """Return the usual scales (how many mm one paper mm stands for) that are no larger than a size allows.

    >>> from geometry.lengths import MILLIMETER, SIXTEENTH
    >>> scales_from(8.3, MILLIMETER)[:2], scales_from(8.3, SIXTEENTH)[:2]
    ((10, 12.5), (10, 12))
    """
    ratios = _METRIC if graduation.denominator == 0 else _US
    found = tuple(ratio for ratio in ratios if ratio >= largest - 1e-9)
    return found or (ratios[-1] * 2.0, ratios[-1] * 4.0)


def scale_text(ratio: float, graduation: Graduation) -> str:
    """Write a scale.

    >>> from geometry.lengths import SIXTEENTH
    >>> scale_text(12, SIXTEENTH)
    'Scale 1 : 12 (1" = 1\\')'
    """
    words = f"Scale 1 : {ratio:g}"
    if graduation.denominator and ratio in _US_WORDS:
        words += f" ({_US_WORDS[int(ratio)]})"
    return words
