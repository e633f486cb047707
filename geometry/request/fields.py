"""Read one JSON object field by field: every wrong type, unit or name is said in one line."""

from dataclasses import dataclass, field
from math import isfinite
from typing import Any

from geometry.angles import AngleError, parse_angle
from geometry.lengths import LONGEST_MM, LengthError, parse_length

MM_PER_UNIT = {"in": 25.4, "ft": 304.8, "mm": 1.0, "m": 1000.0}
SHOWN = 40


class RequestError(ValueError):
    """A request that can't be read; the message is one line and says what to write."""


@dataclass(slots=True)
class Fields:
    """One JSON object on its way in; ``where`` names it in messages, ``units`` are those of its bare numbers."""

    values: dict[str, Any]
    where: str = ""
    units: str = "in"
    read: set[str] = field(default_factory=set)
    inner: list["Fields"] = field(default_factory=list)

    def has(self, key: str) -> bool:
        """Tell whether a key is there and isn't null."""
        self.read.add(key)
        return self.values.get(key) is not None

    def length_mm(self, key: str) -> float:
        """Return a length in mm. Text is inches unless a unit is written in it; a number is in the request's units.

        Raises:
            RequestError: missing, of another type, or text that can't be read for sure.

        """
        value = self._need(key)
        if isinstance(value, str):
            return self._text_mm(key, value)
        return self._limited(key, self._number(key, value) * MM_PER_UNIT[self.units])

    def length_or_none(self, key: str) -> float | None:
        """Return a length in mm, or None where it wasn't given."""
        return self.length_mm(key) if self.has(key) else None

    def degrees(self, key: str) -> float:
        """Return degrees from text or a number; the range is judged later."""
        value = self._need(key)
        if not isinstance(value, str):
            return self._number(key, value)
        try:
            return parse_angle(value)
        except AngleError as unread:
            raise self.wrong(key, str(unread)) from unread

    def degrees_or_none(self, key: str) -> float | None:
        """Return degrees, or None where they weren't given."""
        return self.degrees(key) if self.has(key) else None

    def number(self, key: str, default: float) -> float:
        """Return a plain number."""
        return self._number(key, self.values[key]) if self.has(key) else default

    def need_number(self, key: str) -> float:
        """Return a plain number that must be given."""
        return self._number(key, self._need(key))

    def whole(self, key: str, default: int) -> int:
        """Return a whole number."""
        value = self.number(key, float(default))
        if value != int(value):
            raise self.wrong(key, "must be a whole number")
        return int(value)

    def text(self, key: str, default: str | None = None) -> str:
        """Return text; a number is taken as it is written (``"nps": 4``)."""
        if not self.has(key) and default is not None:
            return default
        value = self._need(key)
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise self.wrong(key, "must be text")
        return f"{value:g}" if isinstance(value, float) else str(value)[:200]

    def one_of(self, key: str, allowed: tuple[str, ...], default: str | None = None) -> str:
        """Return one of a few words."""
        value = self.text(key, default)
        if value not in allowed:
            raise self.wrong(key, f'is "{value[:SHOWN]}": write one of {", ".join(allowed)}')
        return value

    def flag(self, key: str) -> bool:
        """Return true or false; false where it wasn't given."""
        if not self.has(key):
            return False
        value = self.values[key]
        if not isinstance(value, bool):
            raise self.wrong(key, "must be true or false")
        return value

    def wanted(self, key: str) -> bool:
        """Tell whether something is asked for, by true or by an object that says how."""
        return self.has(key) and self.values[key] is not False

    def part(self, key: str) -> "Fields":
        """Return an object inside this one; an empty one where it wasn't given, or where it is just true."""
        for opened in self.inner:
            if opened.where == self._path(key):
                return opened
        value = self.values[key] if self.has(key) else {}
        value = {} if value is True else value
        if not isinstance(value, dict):
            raise self.wrong(key, "must be an object in braces")
        return self._opened(value, self._path(key))

    def parts(self, key: str) -> list["Fields"]:
        """Return a list of objects."""
        found = []
        for index, item in enumerate(self.items(key)):
            if not isinstance(item, dict):
                raise self.wrong(key, "must hold objects in braces")
            found.append(self._opened(item, f"{self._path(key)}[{index}]"))
        return found

    def items(self, key: str) -> list[Any]:
        """Return a list."""
        value = self._need(key)
        if not isinstance(value, list):
            raise self.wrong(key, "must be a list in square brackets")
        return value

    def lengths_mm(self, key: str) -> tuple[float, ...]:
        """Return a list of lengths in mm."""
        return tuple(self._item(key, index).length_mm(str(index)) for index in range(len(self.items(key))))

    def degrees_list(self, key: str) -> tuple[float, ...]:
        """Return a list of degrees; empty where it wasn't given."""
        if not self.has(key):
            return ()
        return tuple(self._item(key, index).degrees(str(index)) for index in range(len(self.items(key))))

    def unread(self) -> list[str]:
        """Return the keys that nothing asked for, those of the objects inside this one too."""
        own = [self._path(key)[:SHOWN] for key in self.values if key not in self.read]
        return own + [key for part in self.inner for key in part.unread()]

    def wrong(self, key: str, why: str) -> RequestError:
        """Return the error that says where and why."""
        return RequestError(f"{self._path(key)}: {why}".replace("\n", " "))

    def _item(self, key: str, index: int) -> "Fields":
        return Fields({str(index): self.values[key][index]}, where=self._path(key), units=self.units)

    def _opened(self, values: dict[str, Any], where: str) -> "Fields":
        opened = Fields(values, where=where, units=self.units)
        self.inner.append(opened)
        return opened

    def _path(self, key: str) -> str:
        return f"{self.where}.{key}" if self.where else key

    def _need(self, key: str) -> Any:
        if not self.has(key):
            raise self.wrong(key, "is missing")
        return self.values[key]

    def _number(self, key: str, value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.wrong(key, "must be a number")
        try:
            number = float(value)
        except OverflowError as too_big:
            raise self.wrong(key, "is too big a number") from too_big
        if not isfinite(number):
            raise self.wrong(key, "must be a number that can be measured")
        return number

    def _text_mm(self, key: str, text: str) -> float:
        try:
            inches = parse_length(text, unit="in").mm
        except LengthError as unread:
            raise self.wrong(key, str(unread)) from unread
        if self.units != "in" and inches != _in_other_units(text, self.units):
            raise self.wrong(key, f'"{text[:SHOWN]}" has no unit and units is {self.units}: write the unit behind it')
        return self._limited(key, inches)

    def _limited(self, key: str, length_mm: float) -> float:
        if abs(length_mm) > LONGEST_MM:
            raise self.wrong(key, "is longer than any pipe: check the unit")
        return length_mm


def _in_other_units(text: str, units: Any) -> float | None:
    """Return what a text would be if its bare numbers were in other units; None where they can't be."""
    try:
        return parse_length(text, unit=units).mm
    except LengthError:
        return None
