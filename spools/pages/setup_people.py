"""People: who works here, what they do, their four digits for the tablet and their sign-in."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from spools.actions.keep_person import PersonFacts, keep_person
from spools.errors import ShopError
from spools.flow.roles import WORDS, Role
from spools.models import Person
from spools.pages.asking import ShopRequest
from spools.pages.setup import form_page, say_beside
from spools.queries.people import one_of, people_of

SHOWN = ("first_name", "last_name", "roles", "stamp", "email", "is_active")


class PersonForm(forms.Form):
    """One person."""

    username = forms.CharField(label="Sign-in name", max_length=60, required=False)
    first_name = forms.CharField(label="First name", max_length=60, required=False)
    last_name = forms.CharField(label="Last name", max_length=60, help_text="What the floor calls them by.")
    roles = forms.MultipleChoiceField(
        label="What they do",
        choices=lambda: [(role.value, WORDS[role]) for role in Role],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    stamp = forms.CharField(label="Welder's stamp", max_length=12, required=False)
    email = forms.EmailField(
        label="E-mail", required=False, help_text="What concerns them is mailed here; left empty, nothing is."
    )
    digits = forms.CharField(
        label="New four digits for the tablet", max_length=4, required=False, help_text="Left empty, they stay."
    )
    word = forms.CharField(
        label="New sign-in word",
        max_length=128,
        required=False,
        widget=forms.PasswordInput,
        help_text="Left empty, it stays. Whoever only works at the tablet needs none.",
    )
    is_active = forms.BooleanField(label="Works here", required=False, initial=True)

    def __init__(self, *args: Any, known: Person | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("digits", "word"):
            self.fields[name].widget.attrs["autocomplete"] = "off" if name == "digits" else "new-password"
        if known:
            del self.fields["username"]

    def facts(self, known: Person | None) -> PersonFacts:
        """Return what was filled in, for the deed."""
        data = self.cleaned_data | {"roles": tuple(Role(code) for code in self.cleaned_data["roles"])}
        named: dict[str, Any] = {"username": known.username} if known else {}
        return PersonFacts(**named, **data)


def setup_people(request: ShopRequest) -> HttpResponse:
    """List the shop's people."""
    return render(request, "spools/setup/people.html", {"people": people_of(request.user)})


def setup_person(request: ShopRequest, person_id: int | None = None) -> HttpResponse:
    """Show one person's facts, or change them."""
    known = one_of(person_id, request.user) if person_id else None
    form = PersonForm(
        request.POST or None, known=known, initial={name: getattr(known, name) for name in SHOWN} if known else None
    )
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_person(by=request.user, facts=form.facts(known), person_id=person_id)
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept}: kept.")
            return redirect("setup-people")
    title = f"{known}, signs in as {known.username}" if known else "Somebody new"
    return form_page(request, form, title, back="setup-people", back_words="People")


urlpatterns = [
    path("setup/people/", setup_people, name="setup-people"),
    path("setup/people/new/", setup_person, name="setup-person-new"),
    path("setup/people/<int:person_id>/", setup_person, name="setup-person"),
]
