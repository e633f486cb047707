"""Many readings in one request: a phone back from a shift sends a pageful at a time, each on its own feet."""

import logging
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.api.errors import answer
from spools.api.readings import ReadingIn, take

MOST = 50
log = logging.getLogger(__name__)


class ReadingsIn(serializers.Serializer[Any]):
    """Up to 50 readings, in the order they were taken; each is checked by itself, so one bad one stops no other."""

    readings = serializers.ListField(child=serializers.DictField(), min_length=1, max_length=MOST)


class ReadingBatch(APIView):
    """Take many readings."""

    @extend_schema(request=ReadingIn(many=True), responses={200: None, 400: None})
    def post(self, request: Request) -> Response:
        """Answer for each reading what it would be answered alone: ``{"answers": [{"status", "body"}, ...]}``.

        Each is a transaction of its own under its own key: when this answer is lost, the same readings sent again in
        any company are answered as the first time.
        """
        given = ReadingsIn(data=request.data)
        given.is_valid(raise_exception=True)
        return Response({"answers": [_one(request, typed) for typed in given.validated_data["readings"]]})


def _one(request: Request, typed: dict[str, Any]) -> dict[str, Any]:
    try:
        body, status = take(request, typed)
    except Exception as trouble:
        refused = answer(trouble, {"request": request})
        if refused is None:  # our own mistake: it stays on the phone, and the others are not held up by it
            log.exception("a reading could not be taken")
            return {"status": 500, "body": {"code": "trouble", "words": "", "what_to_do": ""}}
        return {"status": refused.status_code, "body": refused.data}
    return {"status": status, "body": body}
