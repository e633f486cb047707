"""The form of a jig check: how far the jig reads from its master, in two positions."""

from typing import Any

from django import forms

from geometry.lengths import LengthError, parse_length
from spools.actions.check_jig import MasterPosition
from spools.models import Jig


class JigCheckForm(forms.Form):
    """What the jig read and what the master is, twice."""

    jig = forms.ChoiceField(label="Jig")
    long_master = forms.CharField(label="Long position: the master is", max_length=30)
    long_read = forms.CharField(label="Long position: the jig reads", max_length=30)
    long_included_off = forms.FloatField(
        label="Long position: included angle off by, degrees", min_value=-20, max_value=20
    )
    short_master = forms.CharField(label="Short position: the master is", max_length=30)
    short_read = forms.CharField(label="Short position: the jig reads", max_length=30)
    short_included_off = forms.FloatField(
        label="Short position: included angle off by, degrees", min_value=-20, max_value=20
    )

    def __init__(self, *args: Any, jigs: list[Jig], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["jig"].choices = [(str(jig.id), f"Jig {jig.serial}") for jig in jigs]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Read the four lengths, each refusal beside its field."""
        cleaned = super().clean() or {}
        for name in ("long_master", "long_read", "short_master", "short_read"):
            try:
                cleaned[f"{name}_mm"] = parse_length(cleaned.get(name, "")).mm
            except LengthError as refusal:
                self.add_error(name, str(refusal))
        return cleaned

    def position(self, name: str) -> MasterPosition:
        """Return one position's deviations."""
        data = self.cleaned_data
        off_mm = data[f"{name}_read_mm"] - data[f"{name}_master_mm"]
        return MasterPosition(name=name, length_off_mm=off_mm, included_off_deg=data[f"{name}_included_off"])
