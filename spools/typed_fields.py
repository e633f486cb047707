"""Fields of a typed reading, read one by one; what can't be read is collected with the way to write it."""

from geometry.angles import AngleError, parse_angle
from geometry.lengths import LengthError, parse_length


def read_length_mm(text: str, units: str) -> float:
    """Return a length typed on a job in mm; a bare number is in the job's own unit. Raises ``LengthError``."""
    return parse_length(text, unit="mm" if units == "metric" else "in").mm


class TypedFields:
    """Reads the fields of one form; ``trouble`` maps each field that can't be read to what to do."""

    def __init__(self, units: str) -> None:
        self.units = units
        self.trouble: dict[str, str] = {}

    def needed(self, name: str, text: str, what_to_do: str) -> float:
        """Return a length in mm; 0 with a note of the trouble when it is missing or can't be read."""
        length_mm = self.optional(name, text)
        if length_mm is None:
            self.trouble.setdefault(name, what_to_do)
        return length_mm or 0.0

    def optional(self, name: str, text: str) -> float | None:
        """Return a length in mm, or None when it was left empty or can't be read."""
        if not text.strip():
            return None
        try:
            return read_length_mm(text, self.units)
        except LengthError as refusal:
            self.trouble[name] = str(refusal)
            return None

    def included(self, text: str) -> float:
        """Return an included angle in degrees; 0 with a note of the trouble when it can't be read."""
        try:
            return parse_angle(text)
        except AngleError as refusal:
            self.trouble["included"] = str(refusal)
            return 0.0
