"""Whether a spool fits, over the API: said where it hangs, sent when there is signal."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.say_fit import WORDS, say_fit
from spools.api.permissions import caller
from spools.api.same_person import same_person
from spools.models import Event


class FitIn(serializers.Serializer[Any]):
    """One spool that hangs, and how; ``key`` is the caller's own and makes a repeat harmless."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    spool = serializers.IntegerField(min_value=1, max_value=2**31 - 1)
    how = serializers.ChoiceField(choices=list(WORDS.items()))
    note = serializers.CharField(max_length=200, required=False, allow_blank=True, default="")
    seen_at = serializers.DateTimeField(required=False)
    seen_by = serializers.CharField(
        required=False, max_length=150, help_text="who hung it: refused when somebody else is signed in"
    )
    anyway = serializers.BooleanField(
        required=False, default=False, help_text="said all the same, whatever was said of it before"
    )


class FitNew(APIView):
    """Keep one word on how a spool fits."""

    @extend_schema(request=FitIn, responses={201: None, 200: None, 404: None, 409: None, 422: None})
    def post(self, request: Request) -> Response:
        """Answer 201 for a new one, 200 for a key that is known."""
        given = FitIn(data=request.data)
        given.is_valid(raise_exception=True)
        data = given.validated_data
        known = Event.objects.filter(key=data["key"], spool__shop_id=caller(request).the_shop_id)
        same_person(request, data.get("seen_by"), did="hung", here=known)
        recorded = say_fit(
            spool_id=data["spool"],
            how=data["how"],
            note=data["note"],
            person=caller(request),
            key=data["key"],
            at=timezone.now(),
            seen_at=data.get("seen_at"),
            anyway=data["anyway"],
        )
        return Response(
            {"event": recorded.event.id, "spool": recorded.spool.id}, status=200 if recorded.repeated else 201
        )
