"""Solutions as they are stored at release: the geometry's own values as plain JSON, and back to the last bit."""

from dataclasses import dataclass
from typing import Any

from cattrs import Converter

from geometry.build import ChainRequest, SpoolAnswer, SpoolRequest
from geometry.findings import Finding
from geometry.lengths import Graduation, graduation
from geometry.tables import PipeRow, pipe

_converter = Converter()
_converter.register_unstructure_hook(Graduation, lambda value: value.code)
_converter.register_structure_hook(Graduation, lambda value, _: graduation(value))
_converter.register_unstructure_hook(PipeRow, lambda row: [row.nps, row.schedule])
_converter.register_structure_hook(PipeRow, lambda value, _: pipe(*value))


@dataclass(frozen=True, slots=True)
class Solution:
    """What was asked of the geometry and what it answered."""

    request: SpoolRequest | ChainRequest
    answer: SpoolAnswer


def stored_solution(request: SpoolRequest | ChainRequest, answer: SpoolAnswer) -> dict[str, Any]:
    """Return a solution as plain values for a JSON column."""
    return {"request": _converter.unstructure(request), "answer": _converter.unstructure(answer)}


def read_solution(value: dict[str, Any]) -> Solution:
    """Return the solution that ``stored_solution`` wrote."""
    asked = value["request"]
    return Solution(
        request=_converter.structure(asked, ChainRequest)
        if "line" in asked
        else _converter.structure(asked, SpoolRequest),
        answer=_converter.structure(value["answer"], SpoolAnswer),
    )


def stored_finding(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain values for a JSON column."""
    plain: dict[str, Any] = _converter.unstructure(finding)
    return plain


def read_finding(value: dict[str, Any]) -> Finding:
    """Return the finding that ``stored_finding`` wrote."""
    return _converter.structure(value, Finding)
