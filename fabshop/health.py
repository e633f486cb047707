"""What is up and what waits, in words: for the person who runs the server and for a probe."""

from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse

from cutlists.models import PaperJob


def health(request: HttpRequest) -> JsonResponse:
    """Answer 200 while readings and steps can be kept, 503 when not; waiting papers are said, not alarmed about."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
        waiting = PaperJob.objects.filter(state__in=[PaperJob.State.WAITING, PaperJob.State.RUNNING]).count()
    except DatabaseError:
        return JsonResponse({"ok": False, "words": "The database is away: nothing can be kept now."}, status=503)
    papers = "no paper waits" if not waiting else f"{waiting} papers wait to be drawn"
    return JsonResponse({"ok": True, "words": f"Readings and steps are kept; {papers}."})
