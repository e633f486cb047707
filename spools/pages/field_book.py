"""The field book: a page that a phone keeps, its data, and the worker that serves it where there is no signal."""

import hashlib
import json
import posixpath
import re
from functools import cache
from pathlib import Path
from typing import Any

from django.contrib.staticfiles import finders
from django.http import FileResponse, Http404, HttpResponse, HttpResponseNotModified, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import get_object_or_404, render
from django.template import Engine
from django.templatetags.static import PrefixNode, static
from django.urls import path, reverse
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.views.decorators.cache import never_cache

from spools.actions.report_misfit import HOW
from spools.models import Photo
from spools.pages.asking import ShopRequest
from spools.queries.field_book import book_of

# What the list needs, which is seen first; the other screens are read when they are asked for.
FIRST_MODULES = ("book", "dom", "line", "list", "shift", "store")
LATER_MODULES = (
    *(
        "entry",
        "obstacle",
        "hang",
        "kept",
        "handover",
        "codes",
        "pages",
        "asks",
        "jigs",
        "ends",
        "photos",
        "shrink",
        "pad",
        "sketch",
        "judge",
        "send",
        "reading",
    ),
    *("closes", "blunders", "mistakes", "adjust", "room", "lengths", "angles", "compare"),
)
MODULES = (
    *(f"spools/field/{name}.js" for name in (*FIRST_MODULES, *LATER_MODULES)),
    *("vendor/qr-0.7.0/index.js", "vendor/qr-0.7.0/decode.js"),
)
STYLES = tuple(
    f"spools/{name}.css"
    for name in (
        *("fonts", "tokens", "base", "figures", "states", "strips", "forms", "buttons", "floor"),
        *("field/book", "field/tie_in", "field/pad", "field/asked"),
    )
)
# What the styles ask for by themselves, and what the page has beside them.
OTHERS = (
    *(f"vendor/barlow-semi-condensed-5.3.0/barlow-semi-condensed-latin-{w}-normal.woff2" for w in (400, 500, 600, 700)),
    *("vendor/idb-8.0.4/idb.js", "spools/theme.js", "spools/icon.svg"),
)
PAGE = "spools/field_book.html"
ASKED_FOR = re.compile(r'url\("([^":]+)"\)')
WORKER = "spools/field_book/worker.js"


@cache
def release_of_book() -> str:
    """Return a short name for this very set of files: a phone takes them all together or not at all."""
    digest = hashlib.sha256()
    for name in (*MODULES, *STYLES, *OTHERS):
        found = finders.find(name)
        digest.update(Path(str(found)).read_bytes() if found else name.encode())
    for template in (PAGE, WORKER, "partials/shapes.html", "spools/field_book/_pictures.html"):
        digest.update(Path(Engine.get_default().get_template(template).origin.name).read_bytes())
    return digest.hexdigest()[:12]


def field_book(request: ShopRequest) -> HttpResponse:
    """Give the page that the phone keeps: nothing of a person or a job is in it."""
    get_token(request)
    context = {"release": release_of_book(), "modules": MODULES[: len(FIRST_MODULES)]}
    return render(request, PAGE, context)


@cache
def _styles() -> str:
    return "\n".join(_style(name) for name in STYLES)


def _style(name: str) -> str:
    """Return one style sheet, what it asks for given by its own address."""
    text = Path(str(finders.find(name))).read_text(encoding="utf-8")
    folder = posixpath.dirname(name)
    return ASKED_FOR.sub(lambda asked: f'url("{static(posixpath.normpath(posixpath.join(folder, asked[1])))}")', text)


def field_book_styles(request: ShopRequest) -> HttpResponse:
    """Give all the book's styles as one sheet: a phone opens it sooner than a dozen."""
    answer = HttpResponse(_styles(), content_type="text/css; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer


@never_cache
def field_book_data(request: ShopRequest) -> HttpResponse:
    """Give the shop's open tie-ins, jigs and walks; 304 where the phone has them already."""
    get_token(request)
    at = timezone.now()
    book = book_of(request.user, at=at) | {"misfits": HOW}
    etag = f'"{hashlib.sha256(json.dumps(book, sort_keys=True).encode()).hexdigest()[:24]}"'
    if request.headers.get("If-None-Match") == etag:
        answer: HttpResponse = HttpResponseNotModified()
    else:
        answer = JsonResponse(book)
    answer["ETag"] = etag
    answer["X-Shop-Time"] = at.isoformat()
    answer["X-Signed-In"] = request.user.username.encode("ascii", "backslashreplace").decode()
    return answer


def service_worker(request: ShopRequest) -> HttpResponse:
    """Give the worker that keeps the field book on a phone."""
    # Modules import each other by plain name, so they keep it even where other files have their hash in theirs.
    modules = [PrefixNode.handle_simple("STATIC_URL") + name for name in MODULES]
    names = [*modules, *(static(name) for name in OTHERS)]
    context = {
        "release": release_of_book(),
        "page": _as_json(reverse("field-book")),
        "files": _as_json([*names, reverse("field-book-styles"), reverse("manifest")]),
    }
    answer = render(request, WORKER, context, content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer


def manifest(request: ShopRequest) -> HttpResponse:
    """Give what a phone needs to put the book on its home screen."""
    icon = {"src": static("spools/icon.svg"), "sizes": "any", "type": "image/svg+xml", "purpose": "any"}
    answer = JsonResponse(
        {
            "name": "Field book",
            "short_name": "Field book",
            "start_url": reverse("field-book"),
            "scope": reverse("field"),
            "display": "standalone",
            "background_color": "#fbfaf6",
            "theme_color": "#15181b",
            "icons": [icon],
        }
    )
    answer["Content-Type"] = "application/manifest+json"
    answer["Cache-Control"] = "no-cache"
    return answer


def photo(request: ShopRequest, photo_id: int) -> FileResponse:
    """Give one photo of the shop."""
    found = get_object_or_404(Photo.objects.for_person(request.user), id=photo_id)
    if not found.path.exists():
        raise Http404
    kinds = {Photo.Kind.JPEG: "image/jpeg", Photo.Kind.PNG: "image/png", Photo.Kind.WEBP: "image/webp"}
    answer = FileResponse(found.path.open("rb"), content_type=kinds[Photo.Kind(found.kind)])
    answer["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer


def _as_json(value: Any) -> str:
    """Return a value as script text; our own addresses only, so nothing in it can end a script."""
    return mark_safe(json.dumps(value))  # noqa: S308


urlpatterns = [
    path("sw.js", service_worker, name="service-worker"),
    path("field/manifest.json", manifest, name="manifest"),
    path("field/book/", field_book, name="field-book"),
    path("field/book.css", field_book_styles, name="field-book-styles"),
    path("field/book.json", field_book_data, name="field-book-data"),
    path("photos/<int:photo_id>/", photo, name="photo"),
]
