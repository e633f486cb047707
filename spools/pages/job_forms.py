"""The forms of a new job and a new tie-in."""

from typing import Any

from django import forms

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS, REFERENCE_WORDS
from geometry.tables import pipe_sizes
from spools.models import Job, Main, TieIn
from spools.pages.odd_size import OddSizeForm
from spools.tie_in_values import NewTieIn
from spools.typed_fields import TypedFields


class JobForm(forms.Form):
    """A job and its first main."""

    number = forms.CharField(label="Job number", max_length=20)
    name = forms.CharField(label="Name", max_length=120)
    customer = forms.CharField(label="Customer", max_length=120, required=False)
    units = forms.ChoiceField(label="Lengths on this job", choices=Job.Units.choices)
    main_name = forms.CharField(label="Main", max_length=60, help_text="What the crew calls it, such as East gallery.")
    main_nps = forms.CharField(label="Main, NPS", max_length=8)


class TieInForm(OddSizeForm):
    """One tie-in: where it is and what pipe and ends it takes."""

    mark = forms.CharField(label="Mark", max_length=16)
    main = forms.ModelChoiceField(Main.objects.none(), label="Main", empty_label=None)
    station = forms.CharField(label="Station", max_length=20, help_text="Such as 12+40, or a length along the main.")
    side = forms.ChoiceField(label="Side", choices=TieIn.Side.choices)
    nps = forms.ChoiceField(label="NPS", choices=lambda: [(size, size) for size in pipe_sizes()], initial="6")
    schedule = forms.CharField(label="Schedule", max_length=8, initial="40")
    material = forms.CharField(label="Steel", max_length=30, initial="A53 B", required=False)
    end_a = forms.ChoiceField(
        label="End at the main", choices=lambda: [(e.code, e.word) for e in END_PREPS], initial="beveled"
    )
    measured_to_a = forms.ChoiceField(label="Leg A is measured to", choices=lambda: list(REFERENCE_WORDS.items()))
    end_b = forms.ChoiceField(
        label="End at the drain", choices=lambda: [(e.code, e.word) for e in END_PREPS], initial="grooved"
    )
    measured_to_b = forms.ChoiceField(label="Leg B is measured to", choices=lambda: list(REFERENCE_WORDS.items()))
    bend_kind = forms.ChoiceField(
        label="The turn is made by", choices=lambda: [(m.code, m.word) for m in MAKE_UPS], initial="trimmed_elbow"
    )
    note = forms.CharField(label="Note", max_length=200, required=False)
    field_order = ("mark", "main", "station", "side", "nps", "schedule", "odd_od", "odd_wall")

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        mains = self.fields["main"]
        assert isinstance(mains, forms.ModelChoiceField)  # noqa: S101  as declared above
        mains.queryset = job.mains.all()
        self.job = job

    def clean_station(self) -> float:
        """Return the station in mm."""
        text = self.cleaned_data["station"]
        left, plus, right = text.partition("+")
        if plus and left.strip().isdecimal() and right.strip().isdecimal():
            return (int(left) * 100 + int(right)) * 304.8
        fields = TypedFields(self.job.units)
        station_mm = fields.needed("station", text, "Write the station, such as 12+40.")
        if fields.trouble:
            raise forms.ValidationError(fields.trouble["station"])
        return station_mm

    def clean(self) -> dict[str, Any]:
        """Write an odd size, where one was measured, in place of the nominal one."""
        return self.put_odd_size(super().clean() or {}, self.job.units)

    def new_tie_in(self) -> NewTieIn:
        """Return what was filled in, for the deed."""
        data = {k: v for k, v in self.cleaned_data.items() if k not in {"main", "station"}}
        data["material"] = data["material"] or NewTieIn.__dataclass_fields__["material"].default
        return NewTieIn(station_mm=self.cleaned_data["station"], **data)

    def say(self, fields: dict[str, str]) -> None:
        """Show the shop's refusals beside their fields."""
        for name, words in fields.items():
            self.add_error(name if name in self.fields else None, words)
