"""The form of the stock room's door: bars come in, lengths typed as people type them."""

from typing import Any

from django import forms

from cutlists.pages.typed import typed_length_mm, typed_lengths_mm
from geometry.tables import pipe_sizes
from spools.errors import ShopError
from spools.pages.odd_size import OddSizeForm


class ReceiveForm(OddSizeForm):
    """Bars of one pipe and one heat."""

    nps = forms.ChoiceField(label="NPS", choices=lambda: [(size, size) for size in pipe_sizes()], initial="6")
    schedule = forms.CharField(label="Schedule", max_length=8, initial="40")
    material = forms.CharField(label="Material", max_length=30, initial="A53 B")
    heat = forms.CharField(
        label="Heat number",
        max_length=30,
        required=False,
        help_text="As stenciled; leave it empty if it can't be read.",
    )
    nominal = forms.CharField(
        label="Bought as",
        max_length=20,
        required=False,
        initial="21'",
        help_text="A single is 21', a double 40'. Empty for drops from elsewhere: these count as free.",
    )
    lengths = forms.CharField(
        label="Lengths as measured, one on a line",
        widget=forms.Textarea(attrs={"rows": 6, "autocomplete": "off", "spellcheck": "false"}),
        help_text="Such as 21' 0-1/2\", or 3 x 20' 6 for three alike. Write them short rather than long.",
    )
    rack = forms.CharField(label="Rack", max_length=12, required=False)
    field_order = ("nps", "schedule", "odd_od", "odd_wall")

    def __init__(self, *args: Any, units: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.units = units
        if units == "metric":
            self.fields["nominal"].initial = "6400 mm"

    def clean(self) -> dict[str, Any]:
        """Write an odd size, where one was measured, in place of the nominal one."""
        return self.put_odd_size(super().clean() or {}, self.units)

    def clean_nominal(self) -> float:
        """Return what each was bought as, in mm; 0 for drops."""
        text = self.cleaned_data["nominal"]
        return self._read("nominal", text) if text.strip() else 0.0

    def clean_lengths(self) -> list[float]:
        """Return the lengths in mm; each line that can't be read is named."""
        try:
            return typed_lengths_mm("lengths", self.cleaned_data["lengths"], self.units)
        except ShopError as refusal:
            raise forms.ValidationError(refusal.fields["lengths"]) from refusal

    def say(self, trouble: ShopError) -> None:
        """Put a refusal beside its fields."""
        for name, words in trouble.fields.items():
            self.add_error(name if name in self.fields else None, words)
        if not trouble.fields:
            self.add_error(None, str(trouble))

    def _read(self, name: str, text: str) -> float:
        try:
            return typed_length_mm(name, text, self.units)
        except ShopError as refusal:
            raise forms.ValidationError(refusal.fields[name]) from refusal


class CertificateForm(forms.Form):
    """The mill's certificate of a heat."""

    MOST_BYTES = 10_000_000
    STARTS = {b"%PDF-": ".pdf", b"\x89PNG": ".png", b"\xff\xd8\xff": ".jpg"}

    certificate = forms.FileField(label="Mill certificate", help_text="PDF, PNG or JPEG, up to 10 MB.")

    def clean_certificate(self) -> Any:
        """Return the file under a name whose ending is what it is."""
        file = self.cleaned_data["certificate"]
        if file.size > self.MOST_BYTES:
            raise forms.ValidationError("The file is larger than 10 MB: scan it coarser.")
        head = file.read(8)
        file.seek(0)
        ending = next((ending for start, ending in self.STARTS.items() if head.startswith(start)), None)
        if ending is None:
            raise forms.ValidationError("That is no PDF, PNG or JPEG: scan the certificate again.")
        file.name = f"certificate{ending}"
        return file
