"""Photos over the API: one file at a time, after the words or numbers that it belongs to."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.keep_photo import OF, keep_photo
from spools.api.permissions import caller
from spools.photo_files import MOST_BYTES


class PhotoIn(serializers.Serializer[Any]):
    """A photo and the key of what it is of: a reading where nothing is said. ``size`` is what was sent, in bytes."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    of = serializers.ChoiceField(choices=list(OF), required=False, default="reading")
    reading_key = serializers.RegexField(
        r"^[\x21-\x7e]{8,60}$", help_text="the key of the reading, or of what it is of"
    )
    taken_at = serializers.DateTimeField(required=False)
    size = serializers.IntegerField(min_value=1, max_value=MOST_BYTES)
    photo = serializers.FileField(max_length=200, allow_empty_file=False)


class PhotoNew(APIView):
    """Keep one photo."""

    parser_classes = (MultiPartParser,)

    @extend_schema(request=PhotoIn, responses={201: None, 200: None, 404: None, 422: None})
    def post(self, request: Request) -> Response:
        """Answer 201 for a new photo, 200 for a key that is known."""
        given = PhotoIn(data=request.data)
        given.is_valid(raise_exception=True)
        data = given.validated_data
        photo, repeated = keep_photo(
            of=data["of"],
            its_key=data["reading_key"],
            content=data["photo"].read(MOST_BYTES + 1),
            size=data["size"],
            person=caller(request),
            key=data["key"],
            at=timezone.now(),
            taken_at=data.get("taken_at"),
        )
        return Response({"photo": photo.id, "sha256": photo.sha256}, status=200 if repeated else 201)
