"""Refusals as JSON: the same codes and words as the pages."""

from typing import Any

from django.db import InterfaceError, OperationalError
from rest_framework.response import Response
from rest_framework.views import exception_handler

from spools.errors import ShopError, busy


def answer(trouble: Exception, context: dict[str, Any]) -> Response | None:
    """Return the API's answer to any trouble (DRF's exception handler)."""
    if isinstance(trouble, OperationalError | InterfaceError):
        trouble = busy()
    if isinstance(trouble, RecursionError):
        return Response({"code": "too_deep", "words": "The request is nested too deep."}, status=400)
    if isinstance(trouble, ShopError):
        body: dict[str, Any] = {"code": trouble.code, "words": trouble.words, "what_to_do": trouble.what_to_do}
        if trouble.fields:
            body["fields"] = trouble.fields
        if trouble.facts:
            body["facts"] = trouble.facts
        headers = {"Retry-After": "2"} if trouble.status == 503 else None
        return Response(body, status=trouble.status, headers=headers)
    return exception_handler(trouble, context)
