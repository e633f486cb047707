"""Who may open which address: one table, and a middleware that closes whatever is not in it."""

from collections.abc import Callable

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django_htmx.middleware import HtmxDetails

from cutlists.queries.papers import SHEET_WHO
from spools.flow.roles import EVERYONE, Role
from spools.sign_on import stand_in

_F, _C, _W, _X, _D, _M = Role.FOREMAN, Role.CUTTER, Role.FITTER, Role.FIELD, Role.DRIVER, Role.MANAGER
_T = Role.TABLET

# Open to anybody: signing in and out, the words for a probe, what a phone fetches by itself to keep the field book,
# and the counter's page of one load, which asks for the code of its sheet instead.
OPEN = frozenset({"login", "logout", "health", "service-worker", "manifest", "field-book-styles"}) | frozenset(
    {"load-link", "load-link-printed", "load-link-tap", "load-link-photo"}
)

TABLE: dict[str, frozenset[Role]] = {
    # looking is free
    "home": EVERYONE,
    "find": EVERYONE,
    "spool": EVERYONE,
    "spool-solid": EVERYONE,
    "scan": EVERYONE,
    "scan-printed": EVERYONE,
    "jobs": EVERYONE,
    "job": EVERYONE,
    "job-export": EVERYONE,
    "reading": EVERYONE,
    # steps and deeds: the address is open to all, the deed itself checks the role of its step
    "step": EVERYONE,
    "deed": EVERYONE,
    "undo": EVERYONE,
    # measuring
    "field": frozenset({_X, _F}),
    "reading-new": frozenset({_X, _F}),
    "jig-check": frozenset({_X, _F}),
    "field-book": frozenset({_X, _F}),
    "field-book-data": frozenset({_X, _F}),
    "photo": EVERYONE,
    "obstacles": frozenset({_X, _F, _M}),
    "obstacle-clear": frozenset({_F}),
    "doubtful": frozenset({_X, _F, _M}),
    "doubtful-hold": frozenset({_F}),
    "import": frozenset({_F, _X}),
    "import-save": frozenset({_F, _X}),
    "readings-export": EVERYONE,
    "shots-export": EVERYONE,
    "walk-new": frozenset({_X, _F, _M}),
    "walk": frozenset({_X, _F, _M}),
    "tie-in-new": frozenset({_F, _X}),
    "job-new": frozenset({_F, _M}),
    # foreman
    "floor": frozenset({_F, _M}),
    "floor-list": frozenset({_F, _M}),
    "sort-out": frozenset({_F, _M}),
    "floor-export": frozenset({_F, _M}),
    "assign": frozenset({_F}),
    "proposal": frozenset({_F}),
    "proposal-apply": frozenset({_F}),
    "moves-undo": frozenset({_F}),
    "rush": frozenset({_F}),
    "bench-stops": frozenset({_F, _M, _W}),
    "bench-down": frozenset({_F}),
    "bench-up": frozenset({_F}),
    "release": frozenset({_F}),
    "lay-out": frozenset({_F}),
    "reading-use": frozenset({_F}),
    "make-up": EVERYONE,
    # saw and bench
    "saw": frozenset({_C, _F, _T}),
    "saw-news": frozenset({_C, _F, _T}),
    "cut-done": frozenset({_C, _F, _T}),
    "plan": frozenset({_C, _F, _M}),
    "plan-new": frozenset({_F, _C}),
    "cut-wrong": frozenset({_C, _F}),
    "piece-wrong": frozenset({_C, _F}),
    "cut-skip": frozenset({_C, _F}),
    "cut-out": frozenset({_C, _F}),
    "cut-undo": frozenset({_C, _F}),
    "cut-label": frozenset({_C, _F, _M}),
    "cut-from": frozenset({_C, _F}),
    "elbow-done": frozenset({_C, _F}),
    "plan-again": frozenset({_C, _F}),
    "plan-off": frozenset({_C, _F}),
    "plan-search": frozenset({_C, _F}),
    "plan-search-stop": frozenset({_C, _F}),
    "bar-start": frozenset({_C, _F}),
    "bar-short": frozenset({_C, _F}),
    "stock": frozenset({_C, _F, _M}),
    "stock-receive": frozenset({_C, _F}),
    "stock-bar": frozenset({_C, _F, _M}),
    "bar-tag": frozenset({_C, _F, _M}),
    "bar-tags": frozenset({_C, _F, _M}),
    "bar-scan": frozenset({_C, _F, _M}),
    "bar-scan-printed": frozenset({_C, _F, _M}),
    "bar-scrap": frozenset({_C, _F}),
    "bar-count": frozenset({_C, _F}),
    "bar-heat": frozenset({_C, _F}),
    "legs": frozenset({_C, _F, _M}),
    "leg-return": frozenset({_C, _F}),
    "heat": EVERYONE,
    "heat-certificate": EVERYONE,
    "heat-certificate-new": frozenset({_C, _F, _M}),
    "stock-export": frozenset({_C, _F, _M}),
    "bench": frozenset({_W, _F, _C, _T}),
    "bench-queue": frozenset({_W, _F, _C, _T}),
    "bench-tap": frozenset({_W, _F, _C, _T}),
    # the shared tablet: who is at it
    "tablet": frozenset({_W, _F, _C, _D, _T}),
    "tablet-on": frozenset({_W, _F, _C, _D, _T}),
    "tablet-off": frozenset({_W, _F, _C, _D, _T}),
    "tablet-press": frozenset({_W, _F, _C, _D, _T}),
    # what concerns each person
    "notices": EVERYONE,
    "notices-seen": EVERYONE,
    # the shop's set-up; what only the project manager changes, its deed refuses to others
    "setup": frozenset({_F, _M}),
    "setup-shop": frozenset({_F, _M}),
    "setup-people": frozenset({_F, _M}),
    "setup-person": frozenset({_F, _M}),
    "setup-person-new": frozenset({_F, _M}),
    "setup-benches": frozenset({_F, _M}),
    "setup-bench": frozenset({_F, _M}),
    "setup-bench-new": frozenset({_F, _M}),
    "setup-calendar": frozenset({_F, _M}),
    "setup-day": frozenset({_F, _M}),
    "setup-jigs": frozenset({_F, _M}),
    "setup-jig": frozenset({_F, _M}),
    "setup-jig-new": frozenset({_F, _M}),
    "setup-jobs": frozenset({_F, _M}),
    "setup-job": frozenset({_F, _M}),
    "setup-main": frozenset({_F, _M}),
    "setup-specs": frozenset({_F, _M}),
    "setup-spec": frozenset({_F, _M}),
    "setup-spec-new": frozenset({_F, _M}),
    "setup-spec-drop": frozenset({_F, _M}),
    "setup-main-new": frozenset({_F, _M}),
    # loads
    "loads": frozenset({_D, _F, _M}),
    "load": frozenset({_D, _F, _M}),
    "load-new": frozenset({_D, _F}),
    "load-deed": frozenset({_D, _F}),
    "spares": frozenset({_D, _F, _W, _C, _M}),
    "load-back": frozenset({_D, _F}),
    "load-missing": frozenset({_D, _F}),
    "load-deliver": frozenset({_D, _F}),
    # steel tags
    "tags": frozenset({_F, _W, _D, _M}),
    "tag-stamp": frozenset({_F, _W}),
    "tag-retire": frozenset({_F, _W}),
    "tag-lost": frozenset({_D, _F, _W, _M}),
    # promise
    "promise": frozenset({_M, _F}),
    "promise-list": frozenset({_M, _F}),
    "promise-export": frozenset({_M, _F}),
    # paper
    "papers": EVERYONE,
    "paper-new": EVERYONE,
    "paper-job": EVERYONE,
    "paper-file": EVERYONE,
    "paper-cancel": EVERYONE,
    **SHEET_WHO,
    # the API's own pages
    "schema": EVERYONE,
    "api-docs": EVERYONE,
}

# Where somebody signed on at the shared tablet with four digits stands in for the account that the tablet has.
AT_THE_TABLET = frozenset(
    {"spool", "scan", "scan-printed", "step", "deed", "undo", "bench", "bench-queue", "bench-tap"}
    | {"saw", "plan", "stock", "stock-receive", "sheet", "bench-list"}
    | {name for name in TABLE if name.startswith(("cut-", "bar-", "plan", "stock"))}
)


def _to_sign_in(request: HttpRequest) -> HttpResponse:
    """Send to the sign-in and back; a part of a page that is asked for sends the whole page there."""
    htmx: HtmxDetails = request.htmx  # type: ignore[attr-defined]  # django_htmx sets it
    if not htmx or "X-Live" in request.headers:
        return redirect_to_login(request.get_full_path())
    answer = HttpResponse(status=401)
    answer["HX-Redirect"] = redirect_to_login(htmx.current_url_abs_path or "/").url
    return answer


class AccessMiddleware:
    """Ask for a sign-in everywhere but at the open addresses, and keep people to their roles' pages."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on; the decision is made once the address is known."""
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_: object) -> HttpResponse | None:
        """Decide before the page runs: an address in no row is closed."""
        match = request.resolver_match
        if match is None or match.url_name in OPEN or "admin" in match.namespaces:
            return None  # the admin has Django's own sign-in, for staff only
        if "api" in match.namespaces:
            return None  # the API answers 401 and 403 in its own words, and takes tokens
        if not request.user.is_authenticated:
            return _to_sign_in(request)
        if match.view_name in AT_THE_TABLET:
            stand_in(request, timezone.now())
        if request.user.shop_id is None or not request.user.may(TABLE.get(match.view_name, frozenset())):
            raise PermissionDenied
        return None
