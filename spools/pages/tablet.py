"""The shared tablet: who is at it, by name and four digits once a shift, and whose name is pressed."""

from axes.helpers import get_client_ip_address
from axes.utils import reset
from django.contrib import messages
from django.contrib.auth import authenticate
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.errors import not_found
from spools.models import Person
from spools.pages.asking import ShopRequest, back_to, posted_number
from spools.queries.people import who_may_sign_on
from spools.shop_calendar import calendar_of
from spools.sign_on import lasts_until, people_on, press, sign_off, sign_on


def tablet(request: ShopRequest) -> HttpResponse:
    """Show the names of the shop, and the pad for the four digits."""
    return _page(request)


@require_POST
def tablet_on(request: ShopRequest) -> HttpResponse:
    """Sign somebody on. Wrong tries are counted as those of any sign-in are."""
    chosen = _chosen(request)
    digits = request.POST.get("digits", "").strip()
    found = authenticate(request, username=chosen.username, pin=digits)
    if not isinstance(found, Person):
        return _page(request, chosen=chosen, trouble="Those are not the four digits of that name. Press them again.")
    reset(username=found.username, ip=get_client_ip_address(request))
    at = timezone.now()
    sign_on(request, found, at=at, until=lasts_until(at, calendar_of(found.the_shop)))
    return redirect(back_to(request, reverse("bench")))


@require_POST
def tablet_off(request: ShopRequest) -> HttpResponse:
    """Sign somebody off; what they tapped still goes."""
    leaving = _chosen(request)
    sign_off(request, leaving.id, at=timezone.now())
    messages.success(request, f"{leaving} is signed off here.")
    return redirect("tablet")


@require_POST
def tablet_press(request: ShopRequest) -> HttpResponse:
    """Make a name on top of the tablet the one at work."""
    if not press(request, posted_number(request.POST.get("person", "")), at=timezone.now()):
        return redirect("tablet")
    return redirect(back_to(request, reverse("bench")))


def _chosen(request: ShopRequest) -> Person:
    number = posted_number(request.POST.get("person", ""))
    found = next((one for one in who_may_sign_on(request.user) if one.id == number), None)
    if found is None:
        raise not_found("name like that on this tablet")
    return found


def _page(request: ShopRequest, *, chosen: Person | None = None, trouble: str = "") -> HttpResponse:
    context = {
        "people": who_may_sign_on(request.user),
        "on": people_on(request, request.user, timezone.now()),
        "chosen": chosen,
        "trouble": trouble,
        "back": request.POST.get("back") or request.GET.get("back", ""),
    }
    return render(request, "spools/tablet.html", context, status=422 if trouble else 200)


urlpatterns = [
    path("tablet/", tablet, name="tablet"),
    path("tablet/on/", tablet_on, name="tablet-on"),
    path("tablet/off/", tablet_off, name="tablet-off"),
    path("tablet/press/", tablet_press, name="tablet-press"),
]
