"""Every template keeps to the strict content policy and names only shapes that exist."""

import re
from pathlib import Path

import pytest
from django.template.loader import get_template

ROOT = Path(__file__).parents[2] / "templates"
NAMES = sorted(path.relative_to(ROOT).as_posix() for path in ROOT.rglob("*.html"))
SHAPES = set(re.findall(r'id="shape-(\w+)"', (ROOT / "partials" / "shapes.html").read_text()))
INLINE = re.compile(r"""<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=|javascript:""", re.IGNORECASE)


@pytest.mark.parametrize("name", NAMES)
def test_a_template_parses(name: str) -> None:
    assert get_template(name)


@pytest.mark.parametrize("name", NAMES)
def test_a_template_has_no_inline_script_or_style(name: str) -> None:
    assert INLINE.findall((ROOT / name).read_text()) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_template_names_only_shapes_that_exist(name: str) -> None:
    assert set(re.findall(r"#shape-(\w+)", (ROOT / name).read_text())) <= SHAPES


def test_the_page_for_our_own_mistakes_draws_with_nothing_to_go_by() -> None:
    assert "was not kept" in get_template("500.html").render()


def test_shapes_differ_from_each_other() -> None:
    drawn = re.findall(r'viewBox="0 0 24 24">(.*?)</symbol>', (ROOT / "partials" / "shapes.html").read_text())
    assert len(drawn) == len(set(drawn)) == len(SHAPES)
