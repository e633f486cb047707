"""The form of a walk: which main, from which shafts, how many a crew does in a shift."""

from typing import Any

from django import forms

from spools.actions.keep_walk import WalkAsked
from spools.models import Main, Walk
from spools.say_lengths import say_station
from spools.typed_stations import StationError, read_station_mm


class WalkForm(forms.Form):
    """What a walk is planned from; shafts left empty are those of the main."""

    main = forms.ChoiceField(label="Main")
    what = forms.ChoiceField(label="On this walk", choices=Walk.What.choices, initial=Walk.What.MEASURE)
    in_a_shift = forms.IntegerField(label="A crew does in a shift", min_value=1, max_value=200, initial=20)
    shafts = forms.CharField(
        label="Shafts a crew can use",
        max_length=400,
        required=False,
        help_text="Stations with commas between, such as 0+00, 20+40. Empty: all shafts of the main.",
    )
    same_shaft = forms.BooleanField(label="Up where it went down", required=False)

    def __init__(self, *args: Any, mains: list[Main], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.mains = {str(main.id): main for main in mains}
        choices = [(number, f"{main.job.number} {main.name}") for number, main in self.mains.items()]
        self.fields["main"].choices = choices  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Read the shafts, each refusal beside the field."""
        cleaned = super().clean() or {}
        main = self.mains.get(cleaned.get("main", ""))
        if main is None:
            return cleaned
        typed = [part for part in cleaned.get("shafts", "").replace(";", ",").split(",") if part.strip()]
        try:
            shafts = [read_station_mm(part, main.job.units) for part in typed] or [float(mm) for mm in main.access_mm]
        except StationError as refusal:
            self.add_error("shafts", str(refusal))
            return cleaned
        if not shafts:
            self.add_error("shafts", "This main has no shaft on record: write their stations.")
        cleaned["shafts_mm"] = shafts
        return cleaned

    @property
    def chosen(self) -> Main:
        """The main that was chosen."""
        return self.mains[self.cleaned_data["main"]]

    @property
    def asked(self) -> WalkAsked:
        """What was asked besides main and shafts."""
        data = self.cleaned_data
        return WalkAsked(what=data["what"], in_a_shift=data["in_a_shift"], same_shaft=data["same_shaft"])

    def shafts_in_words(self) -> str:
        """The shafts that the plan uses, as stations."""
        return ", ".join(say_station(mm, self.chosen.job.units) for mm in sorted(self.cleaned_data["shafts_mm"]))
