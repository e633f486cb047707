"""A photo from the counter's page: one at a time, small, of a line that was counted, by the code on the sheet."""

from django.http import HttpRequest, JsonResponse
from django.urls import path
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST

from spools.actions.keep_load_photo import MOST_BYTES, keep_load_photo
from spools.errors import ShopError, invalid
from spools.load_links import load_of_link
from spools.pages.asking import posted_key, posted_number

MOST_FORM = 20_000  # what the form has beside the photo


# The code in the address is the permission, not a cookie: a stranger's page that posts here must know it already.
@csrf_exempt
@require_POST
def load_link_photo(request: HttpRequest, code: str) -> JsonResponse:
    """Keep one photo; the same key is the same photo. What is too large is refused before it is read."""
    at = timezone.now()
    try:
        load = load_of_link(code, at=at)
        if int(request.META.get("CONTENT_LENGTH") or 0) > MOST_BYTES + MOST_FORM:
            raise _too_large()
        photo = request.FILES.get("photo")
        if photo is None:
            raise invalid({"photo": "Take a photo first."}, "No photo arrived.")
        if (photo.size or 0) > MOST_BYTES:
            raise _too_large()
        keep_load_photo(
            load_id=load.id,
            spool_id=posted_number(request.POST.get("spool", "")),
            content=photo.read(MOST_BYTES + 1),
            size=posted_number(request.POST.get("size", "")),
            person=load.made_by,
            key=posted_key(request),
            at=at,
        )
    except ShopError as trouble:
        words = trouble.fields.get("photo") or trouble.words
        return JsonResponse(
            {"state": "refused", "code": trouble.code, "words": words, "what_to_do": trouble.what_to_do},
            status=trouble.status,
        )
    return JsonResponse({"state": "kept", "words": "photo"})


def _too_large() -> ShopError:
    return invalid({"photo": f"A photo has at most {MOST_BYTES / 1_000_000:g} MB here."})


urlpatterns = [path("l/<str:code>/photo/", load_link_photo, name="load-link-photo")]
