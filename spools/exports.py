"""Lists as CSV and XLSX: numbers as numbers, text as text, never a live formula."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

import tablib
from django.http import HttpResponse

from spools.errors import not_found

TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
# A cell that starts with one of these can run in a spreadsheet (OWASP ASVS 5, 1.2.10).
LIVE = ("=", "+", "-", "@", "\t", "\r", "\x00")


def export(name: str, kind: str, columns: Sequence[str], rows: Iterable[Sequence[Any]]) -> HttpResponse:
    """Return a list as a file. Raises ``ShopError`` not_found for any kind but csv and xlsx."""
    if kind not in TYPES:
        raise not_found("file of that kind")
    data = tablib.Dataset(headers=list(columns), title=name[:31])
    for row in rows:
        data.append([_safe(cell) for cell in row])
    answer = HttpResponse(data.export(kind), content_type=TYPES[kind])
    answer["Content-Disposition"] = f'attachment; filename="{name}.{kind}"'
    return answer


def _safe(cell: Any) -> Any:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.replace(tzinfo=None, microsecond=0)
    if isinstance(cell, str) and cell.startswith(LIVE):
        return f"'{cell}"
    return cell
