"""What a calculation noticed: a code for programs, words for people, and the figures behind it."""

from dataclasses import dataclass
from typing import Literal

Level = Literal["error", "warning", "caution"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One number behind a finding, with its unit (``mm``, ``deg``, ``kg`` or empty)."""

    name: str
    value: float
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a person must know before the saw runs.

    ``error`` stops the build, ``warning`` asks for a person's decision, ``caution`` is printed beside the work.
    ``text`` says what to do, not only what is wrong.
    """

    level: Level
    code: str
    text: str
    figures: tuple[Figure, ...] = ()


def error(code: str, text: str, *figures: Figure) -> Finding:
    """Return a finding that stops the build."""
    return Finding("error", code, text, figures)


def warning(code: str, text: str, *figures: Figure) -> Finding:
    """Return a finding that a named person must decide on."""
    return Finding("warning", code, text, figures)


def caution(code: str, text: str, *figures: Figure) -> Finding:
    """Return a finding that is printed beside the work."""
    return Finding("caution", code, text, figures)


def has_errors(findings: tuple[Finding, ...]) -> bool:
    """Tell whether any finding stops the build."""
    return any(finding.level == "error" for finding in findings)
