"""The form of a jig reading: it keeps what was typed, and shows what the shop says beside the field it says it of."""

from typing import TYPE_CHECKING, Any

from django import forms

from geometry.ends import REFERENCE_WORDS, end_prep
from spools.models import Reading, SetPoints, TieIn
from spools.solving import Typed

LENGTH = {"autocomplete": "off", "inputmode": "text", "maxlength": 40}


def references(prep: str) -> list[tuple[str, str]]:
    """Return what a leg with this end preparation may be measured to."""
    return [(code, REFERENCE_WORDS[code]) for code in end_prep(prep).measured_to]


if TYPE_CHECKING:
    SetPointsField = forms.ModelChoiceField[SetPoints]
else:
    SetPointsField = forms.ModelChoiceField


class JigChoice(SetPointsField):
    """A choice of set points, shown as the jig they belong to."""

    def label_from_instance(self, obj: SetPoints) -> str:
        """The jig's serial."""
        return f"Jig {obj.jig.serial}"


class ReadingForm(forms.Form):
    """One reading of one tie-in; numbers are read by the shop's own rules, not here."""

    leg_a = forms.CharField(label="Leg A, main side", max_length=40, widget=forms.TextInput(LENGTH))
    leg_b = forms.CharField(label="Leg B, drain side", max_length=40, widget=forms.TextInput(LENGTH))
    included = forms.CharField(
        label="Included angle, degrees", max_length=20, widget=forms.TextInput(LENGTH | {"inputmode": "decimal"})
    )
    closing = forms.CharField(
        label="Closing measure C, end to end from the hook",
        max_length=40,
        required=False,
        widget=forms.TextInput(LENGTH),
        help_text="Without C nothing checks the other three.",
    )
    d = forms.CharField(
        label="Check measure D, from the 12 in mark on leg A to end B",
        max_length=40,
        required=False,
        widget=forms.TextInput(LENGTH),
    )
    e = forms.CharField(
        label="Check measure E, from 12 in back from end A to end B",
        max_length=40,
        required=False,
        widget=forms.TextInput(LENGTH),
    )
    set_points = JigChoice(SetPoints.objects.none(), label="Jig", empty_label=None)
    burn_a = forms.CharField(label="Tape held at, leg A", max_length=20, required=False, widget=forms.TextInput(LENGTH))
    burn_b = forms.CharField(label="Tape held at, leg B", max_length=20, required=False, widget=forms.TextInput(LENGTH))
    measured_to_a = forms.ChoiceField(label="Leg A measured to")
    measured_to_b = forms.ChoiceField(label="Leg B measured to")
    hand = forms.ChoiceField(label="The drain leg", choices=[("", "not said"), *Reading.Hand.choices], required=False)
    up_mark = forms.CharField(label="Up mark", max_length=60, required=False)
    note = forms.CharField(label="Note", max_length=300, required=False)

    def __init__(self, *args: Any, tie_in: TieIn, set_points: list[SetPoints], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        jigs = self.fields["set_points"]
        assert isinstance(jigs, JigChoice)  # noqa: S101  as declared above
        jigs.queryset = SetPoints.objects.filter(id__in=[row.id for row in set_points]).select_related("jig")
        for side, prep in (("a", tie_in.end_a), ("b", tie_in.end_b)):
            self.fields[f"measured_to_{side}"].choices = references(prep)  # type: ignore[attr-defined]
            self.fields[f"measured_to_{side}"].initial = getattr(tie_in, f"measured_to_{side}")

    def typed(self) -> Typed:
        """Return what was typed, for the deed."""
        given = {name: self.cleaned_data[name] for name in Typed.__dataclass_fields__}
        return Typed(**given)

    def say(self, fields: dict[str, str]) -> None:
        """Show the shop's refusals beside their fields."""
        for name, words in fields.items():
            self.add_error(name if name in self.fields else None, words)
