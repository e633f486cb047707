"""Signing on at the shared tablet: a name and four digits, once a shift; kept in the tablet's own session."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.backends import BaseBackend
from django.contrib.auth.hashers import check_password, make_password
from django.http import HttpRequest

from spools.flow.roles import Role
from spools.models import Person
from spools.turnaround.shifts import Calendar, CalendarError

MOST = 4  # names that fit on top of the tablet
LONGEST = timedelta(hours=16)
EARLY = timedelta(hours=2)  # signed on before the shift starts, it holds for that shift
KEPT = timedelta(days=7)  # how long a tap may wait on the tablet and still be believed
_ON, _AT = "signed_on", "at_work"


class FourDigits(BaseBackend):
    """Django's way to a person by sign-in name and four digits; only the tablet asks with ``pin``."""

    def authenticate(
        self, request: HttpRequest | None, username: str | None = None, pin: str | None = None, **_: object
    ) -> Person | None:
        """Return the person whose digits these are."""
        if username is None or pin is None:
            return None
        person = Person.objects.filter(username=username, is_active=True).exclude(pin="").first()
        if person is None:
            make_password(pin)  # takes as long as a wrong one would
            return None
        return person if check_password(pin, person.pin) else None


@dataclass(frozen=True, slots=True)
class SignOn:
    """One person signed on at this tablet, from when until when."""

    person_id: int
    since: datetime
    until: datetime

    def holds(self, at: datetime) -> bool:
        """Tell whether the person is signed on at a moment."""
        return self.since <= at <= self.until


def lasts_until(at: datetime, calendar: Calendar) -> datetime:
    """Return when a sign-on ends: as the next shift starts, so that nobody is cut off in mid-work."""
    try:
        next_shift = calendar.next_shift_start(at + EARLY)
    except CalendarError:
        return at + LONGEST
    return min(next_shift, at + LONGEST)


def sign_ons(request: HttpRequest) -> tuple[SignOn, ...]:
    """Return everybody who signed on at this tablet in the last days, the newest sign-on of each."""
    kept: list[list[Any]] = request.session.get(_ON, [])
    return tuple(
        SignOn(number, datetime.fromisoformat(since), datetime.fromisoformat(until)) for number, since, until in kept
    )


def on_now(request: HttpRequest, at: datetime) -> tuple[SignOn, ...]:
    """Return who is signed on at this moment, in the order in which they came."""
    return tuple(one for one in sign_ons(request) if one.holds(at))


def at_work(request: HttpRequest, at: datetime) -> int | None:
    """Return the person whose name is pressed, if they are signed on."""
    pressed: int | None = request.session.get(_AT)
    return pressed if any(one.person_id == pressed for one in on_now(request, at)) else None


def vouched(request: HttpRequest, person_id: int, *, at: datetime, done_at: datetime) -> bool:
    """Tell whether a tap of a person counts: signed on now, or then, when the tablet had no network."""
    return any(one.person_id == person_id and (one.holds(at) or one.holds(done_at)) for one in sign_ons(request))


def sign_on(request: HttpRequest, person: Person, *, at: datetime, until: datetime) -> None:
    """Put a person's name on top of the tablet and press it; a fifth name takes the place of the oldest."""
    others = [one for one in sign_ons(request) if one.person_id != person.id and at - one.until < KEPT]
    now = [one for one in others if one.holds(at)]
    gone = {one.person_id for one in now[: max(0, len(now) - MOST + 1)]}
    ended = [SignOn(one.person_id, one.since, at) if one.person_id in gone else one for one in others]
    _keep(request, [*ended, SignOn(person.id, at, until)])
    request.session[_AT] = person.id


def sign_off(request: HttpRequest, person_id: int, *, at: datetime) -> None:
    """End one person's sign-on; what they tapped before still counts when it arrives."""
    _keep(
        request,
        (
            SignOn(one.person_id, one.since, min(one.until, at)) if one.person_id == person_id else one
            for one in sign_ons(request)
        ),
    )
    if request.session.get(_AT) == person_id:
        del request.session[_AT]


def press(request: HttpRequest, person_id: int, *, at: datetime) -> bool:
    """Make somebody who is signed on the one at work, or the account itself; return whether that is so."""
    if isinstance(request.user, Person) and request.user.id == person_id:
        request.session.pop(_AT, None)
        return True
    if not any(one.person_id == person_id for one in on_now(request, at)):
        return False
    request.session[_AT] = person_id
    return True


def people_on(request: HttpRequest, account: Person, at: datetime) -> tuple[Person, ...]:
    """Return the people whose names stand on top of the tablet, in the order in which they came."""
    order = [one.person_id for one in on_now(request, at)]
    if not order:
        return ()
    found = {one.id: one for one in Person.objects.filter(id__in=order, shop_id=account.the_shop_id, is_active=True)}
    return tuple(found[number] for number in order if number in found)


def stand_in(request: HttpRequest, at: datetime) -> None:
    """Let the person whose name is pressed act in place of the tablet's own account, for this request."""
    account = request.user
    if not isinstance(account, Person):
        return
    names = people_on(request, account, at)
    pressed = at_work(request, at)
    own = () if not names or account.role_set <= {Role.TABLET} or account in names else (account,)
    request.names_on = (*own, *names)  # type: ignore[attr-defined]  # for the page that shows them
    request.account = account  # type: ignore[attr-defined]  # whose session it is
    acting = next((one for one in names if one.id == pressed), None)
    if acting is not None:
        request.user = acting


def _keep(request: HttpRequest, ons: Iterable[SignOn]) -> None:
    request.session[_ON] = [[one.person_id, one.since.isoformat(), one.until.isoformat()] for one in ons]
