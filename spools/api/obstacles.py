"""What can't be measured, over the API: said in the hole, sent when there is signal."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.report_obstacle import report_obstacle
from spools.api.permissions import caller
from spools.api.same_person import same_person
from spools.errors import not_found
from spools.marks import mark_key
from spools.models import Obstacle, TieIn


class ObstacleIn(serializers.Serializer[Any]):
    """Why a tie-in can't be measured; ``key`` is the caller's own and makes a repeat harmless."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    job = serializers.CharField(max_length=20)
    mark = serializers.CharField(max_length=16)
    why = serializers.ChoiceField(choices=Obstacle.Why.choices)
    note = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")
    seen_at = serializers.DateTimeField(required=False)
    seen_by = serializers.CharField(
        required=False, max_length=150, help_text="who saw it: refused when somebody else is signed in"
    )


class ObstacleNew(APIView):
    """Keep one obstacle."""

    @extend_schema(request=ObstacleIn, responses={201: None, 200: None, 404: None, 409: None, 422: None})
    def post(self, request: Request) -> Response:
        """Answer 201 for a new one, 200 for a key that is known."""
        given = ObstacleIn(data=request.data)
        given.is_valid(raise_exception=True)
        data = given.validated_data
        known = Obstacle.objects.for_person(caller(request)).filter(key=data["key"])
        same_person(request, data.get("seen_by"), did="seen", here=known)
        mark = mark_key(data["mark"])
        tie_in = TieIn.objects.for_person(caller(request)).filter(job__number=data["job"], mark_key=mark).first()
        if tie_in is None:
            raise not_found("tie-in of that mark")
        obstacle, repeated = report_obstacle(
            tie_in_id=tie_in.id,
            why=data["why"],
            note=data["note"],
            person=caller(request),
            key=data["key"],
            at=timezone.now(),
            seen_at=data.get("seen_at"),
        )
        return Response({"obstacle": obstacle.id}, status=200 if repeated else 201)
