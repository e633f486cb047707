"""Drawings as compact text to keep in the database, and back: rounded to the thousandth of a millimeter."""

import json
from dataclasses import fields
from typing import Any

from geometry.drawing.shapes import Arc, Drawing, Line, Polyline, Shape, StackedLength, Text

_KINDS: tuple[type[Shape], ...] = (Line, Arc, Polyline, Text, StackedLength)
_NUMBER = {kind: number for number, kind in enumerate(_KINDS)}
_FIELDS = {kind: tuple(field.name for field in fields(kind)) for kind in _KINDS}


def drawing_text(drawing: Drawing) -> str:
    """Return a drawing as text."""
    head = [drawing.width_mm, drawing.height_mm, drawing.title, drawing.scale_text, drawing.view_text]
    shapes = [[_NUMBER[type(s)], *(_plain(getattr(s, name)) for name in _FIELDS[type(s)])] for s in drawing.shapes]
    return json.dumps([head, shapes], ensure_ascii=False, separators=(",", ":"))


def read_drawing(text: str) -> Drawing:
    """Return the drawing that ``drawing_text`` wrote."""
    (width_mm, height_mm, title, scale_text, view_text), shapes = json.loads(text)
    return Drawing(width_mm, height_mm, tuple(_shape(*shape) for shape in shapes), title, scale_text, view_text)


def _plain(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 3)
    return [[round(x, 3), round(y, 3)] for x, y in value] if isinstance(value, tuple) else value


def _shape(number: int, *values: Any) -> Shape:
    if number == _NUMBER[Polyline]:
        return Polyline(tuple((x, y) for x, y in values[0]), *values[1:])
    return _KINDS[number](*values)
