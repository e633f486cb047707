"""Columns that hold lists, as people fill them in: ticks for codes, one line for pipe sizes."""

from typing import Any

from django import forms

from geometry.tables import pipe_sizes
from spools.admin.typed import BenchFormBase, NewPersonFormBase, PersonFormBase
from spools.flow.roles import WORDS
from spools.flow.steps import STEPS
from spools.models import Bench, Person

ROLE_CHOICES = [(role.value, word) for role, word in WORDS.items()]
STEP_CHOICES = [(step.code, step.word) for step in STEPS]


class Ticks(forms.MultipleChoiceField):
    """A column that holds a list of codes, as ticks."""

    widget = forms.CheckboxSelectMultiple


class Sizes(forms.CharField):
    """A column that holds a list of pipe sizes, written with commas between."""

    def prepare_value(self, value: Any) -> Any:
        """Return the list as one line."""
        return ", ".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> Any:
        """Return the line as a list; an unknown size is refused by name."""
        sizes = [size.strip() for size in str(value or "").split(",") if size.strip()]
        unknown = [size for size in sizes if size not in pipe_sizes()]
        if unknown:
            raise forms.ValidationError(f"No NPS {', '.join(unknown)} in the tables: write 6 or 2-1/2.")
        return sizes


class PersonForm(PersonFormBase):
    """A person with their roles as ticks."""

    roles = Ticks(choices=ROLE_CHOICES, required=False)


class NewPersonForm(NewPersonFormBase):
    """A new person: name, password, shop and roles at once."""

    roles = Ticks(choices=ROLE_CHOICES, required=False)

    class Meta:
        model = Person
        fields = ("username", "last_name", "shop", "roles")


class BenchForm(BenchFormBase):
    """A bench with its operations as ticks and its sizes as a line."""

    operations = Ticks(choices=STEP_CHOICES, required=False)
    sizes = Sizes(required=False, help_text="NPS that fit, commas between; empty means any")
    set_up_nps = forms.CharField(required=False, max_length=8, label="Set up for NPS")

    class Meta:
        model = Bench
        fields = (
            "shop",
            "name",
            "operations",
            "sizes",
            "od_from_mm",
            "od_to_mm",
            "wall_to_mm",
            "set_up_nps",
            "is_active",
        )
