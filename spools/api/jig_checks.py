"""Jig checks over the API: taken before the shift where there is no signal, sent when there is."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.check_jig import MasterPosition, check_jig
from spools.api.permissions import caller
from spools.api.same_person import same_person
from spools.errors import not_found
from spools.models import Jig, JigCheck


class PositionIn(serializers.Serializer[Any]):
    """How far the jig reads from its master in one position."""

    name = serializers.CharField(max_length=20)
    length_off_mm = serializers.FloatField(min_value=-1000, max_value=1000)
    included_off_deg = serializers.FloatField(min_value=-90, max_value=90)


class JigCheckIn(serializers.Serializer[Any]):
    """A check in both positions; ``key`` is the caller's own and makes a repeat harmless."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    jig = serializers.CharField(max_length=20)
    checked_at = serializers.DateTimeField(required=False)
    checked_by = serializers.CharField(
        required=False, max_length=150, help_text="who checked it: refused when somebody else is signed in"
    )
    positions: serializers.Field[Any, Any, Any, Any] = serializers.ListSerializer(
        child=PositionIn(), min_length=1, max_length=4
    )


class JigCheckNew(APIView):
    """Record one jig check."""

    @extend_schema(request=JigCheckIn, responses={200: None, 404: None, 409: None})
    def post(self, request: Request) -> Response:
        """Answer whether the jig is good; a known key answers as the first time."""
        given = JigCheckIn(data=request.data)
        given.is_valid(raise_exception=True)
        data = given.validated_data
        known = JigCheck.objects.filter(key=data["key"], jig__shop_id=caller(request).the_shop_id)
        same_person(request, data.get("checked_by"), did="checked", here=known)
        jig = Jig.objects.filter(shop_id=caller(request).the_shop_id, serial=data["jig"]).first()
        if jig is None:
            raise not_found("jig of that number")
        check = check_jig(
            jig_id=jig.id,
            positions=tuple(MasterPosition(**position) for position in data["positions"]),
            person=caller(request),
            key=data["key"],
            at=timezone.now(),
            checked_at=data.get("checked_at"),
        )
        check.jig.refresh_from_db()
        return Response({"passed": check.passed, "locked": check.jig.locked_reason, "checked_at": check.at.isoformat()})
