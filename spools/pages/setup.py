"""The shop's set-up: the way to its parts, and the settings of the shop itself."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from spools.actions.keep_settings import SHOP_WHO, ShopFacts, keep_shop
from spools.errors import ShopError
from spools.pages.asking import ShopRequest
from spools.queries.setup import counts_of_setup


class ShopForm(forms.Form):
    """The shop's settings."""

    name = forms.CharField(label="Shop", max_length=80)
    time_zone = forms.CharField(label="Time zone", max_length=40, help_text="Such as America/Chicago.")
    cut_off = forms.TimeField(
        label="Cut-off of the promise", help_text="A reading received later counts from the start of the next shift."
    )
    kerf_64ths = forms.IntegerField(label="Kerf of the saw, 64ths of an inch", min_value=0, max_value=64)
    end_trim_64ths = forms.IntegerField(label="Trim at the end of a bar, 64ths of an inch", min_value=0, max_value=640)
    keep_from_in = forms.IntegerField(label="Shortest drop worth keeping, inches", min_value=1, max_value=480)
    truck_lb = forms.IntegerField(label="The truck takes, lb", min_value=100, max_value=100_000)
    truck_deck_in = forms.IntegerField(label="Its deck is long, inches", min_value=24, max_value=900)
    kettle_length_in = forms.IntegerField(
        label="The galvanizer's kettle: length, inches", min_value=12, max_value=1000, help_text="Ask the galvanizer."
    )
    kettle_width_in = forms.IntegerField(label="The kettle's width, inches", min_value=12, max_value=300)
    kettle_depth_in = forms.IntegerField(label="The kettle's depth, inches", min_value=12, max_value=300)
    scale_lb = forms.IntegerField(
        label="Error of the truck scale, lb",
        min_value=0,
        max_value=500,
        help_text="How far one reading is off, one standard deviation; often about half of the scale's step.",
    )
    zinc_days = forms.IntegerField(label="Working days at the galvanizer", min_value=1, max_value=60)
    link_days = forms.IntegerField(
        label="Days that a load's link opens",
        min_value=1,
        max_value=120,
        help_text="Whoever has the sheet counts the load with it, without an account.",
    )


def setup(request: ShopRequest) -> HttpResponse:
    """Show the parts of the set-up."""
    return render(request, "spools/setup.html", {"counts": counts_of_setup(request.user)})


def setup_shop(request: ShopRequest) -> HttpResponse:
    """Show the shop's settings, or change them."""
    shop = request.user.the_shop
    form = ShopForm(request.POST or None, initial={name: getattr(shop, name) for name in ShopForm.base_fields})
    may_change = request.user.may(SHOP_WHO)
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_shop(by=request.user, facts=ShopFacts(**form.cleaned_data))
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept}: kept. What is released already keeps its own figures.")
            return redirect("setup-shop")
    return form_page(request, form, "The shop", may_change=may_change)


def form_page(
    request: ShopRequest, form: forms.Form, title: str, *, may_change: bool = True, **context: object
) -> HttpResponse:
    """Render one form of the set-up; what was typed comes back with the trouble beside it."""
    context |= {"form": form, "title": title, "may_change": may_change}
    return render(request, "spools/setup/form.html", context, status=422 if form.errors else 200)


def say_beside(form: forms.Form, trouble: ShopError) -> None:
    """Show the shop's refusal beside the fields it is about."""
    for name, words in trouble.fields.items():
        form.add_error(name if name in form.fields else None, words)
    if not trouble.fields:
        form.add_error(None, str(trouble))


urlpatterns = [
    path("setup/", setup, name="setup"),
    path("setup/shop/", setup_shop, name="setup-shop"),
]
