"""The two fields of pipe that has no nominal size, for every form that asks for a size."""

from typing import Any

from django import forms

from geometry.tables import UnknownPipe
from geometry.tables.odd_sizes import write_odd
from spools.typed_fields import TypedFields


class OddSizeForm(forms.Form):
    """A form with a size and a schedule; what is typed here stands in their place."""

    odd_od = forms.CharField(
        label="Odd size only: outside diameter",
        max_length=20,
        required=False,
        help_text="Of pipe that has no NPS, by caliper, such as 5.25. What is built of it waits for the foreman's yes.",
    )
    odd_wall = forms.CharField(
        label="Odd size only: wall", max_length=20, required=False, help_text="Measured too, such as 0.25."
    )

    def put_odd_size(self, cleaned: dict[str, Any], units: str) -> dict[str, Any]:
        """Write the odd size into ``nps`` and ``schedule``, and leave its own fields out; say what can't be read."""
        od, wall = cleaned.pop("odd_od", ""), cleaned.pop("odd_wall", "")
        if not od and not wall:
            return cleaned
        fields = TypedFields(units)
        od_mm = fields.needed("odd_od", od, "Measure the outside diameter too.")
        wall_mm = fields.needed("odd_wall", wall, "Measure the wall too.")
        if not fields.trouble:
            try:
                cleaned["nps"], cleaned["schedule"] = write_odd(od_mm=od_mm, wall_mm=wall_mm)
            except UnknownPipe as refusal:
                fields.trouble["odd_od"] = str(refusal)
        for name, words in fields.trouble.items():
            self.add_error(name, words)
        return cleaned
