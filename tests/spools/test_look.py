"""Colors can be read in sun and in the dark; drawings on the page use the pens of geometry/drawing."""

import re
from pathlib import Path

import pytest

from geometry.drawing.svg import pen_css

STATIC = Path(__file__).parents[2] / "spools" / "static" / "spools"
TOKENS = (STATIC / "tokens.css").read_text()

# Figures and text against what lies behind them: 7 to 1, WCAG 2.2 success criterion 1.4.6 (level AAA).
PAIRS = [
    ("ink", "paper"),
    ("ink", "shade"),
    ("soft", "paper"),
    ("soft", "shade"),
    ("blue", "paper"),
    ("blue", "shade"),
    ("on-blue", "blue"),
    ("on-yellow", "yellow"),
    ("rust", "paper"),
    ("rust", "shade"),
    ("on-rust", "rust"),
]


def block(selector: str) -> dict[str, str]:
    body = TOKENS.split(selector + " {", 1)[1].split("}", 1)[0]
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", body))


LIGHT = block(":root")
DARK = block(':root[data-theme="dark"]')


def luminance(color: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(front: str, back: str) -> float:
    high, low = sorted((luminance(front), luminance(back)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_21_for_black_on_white() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("front", "back"), PAIRS)
def test_text_stands_out_seven_to_one(colors: dict[str, str], front: str, back: str) -> None:
    assert contrast(colors[front], colors[back]) >= 7.0


@pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])
def test_hairlines_can_be_seen(colors: dict[str, str]) -> None:
    assert contrast(colors["hair"], colors["paper"]) >= 3.0


def test_the_switch_and_the_device_give_the_same_dark() -> None:
    assert block(':root:not([data-theme="light"])') == DARK


def test_drawings_on_the_page_use_the_pens_table() -> None:
    rules = pen_css().splitlines()[1:]
    assert rules
    assert [rule for rule in rules if rule not in (STATIC / "drawing.css").read_text().splitlines()] == []
