"""Readings over the API: the same deed and the same words as the page."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.generics import ListAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.take_reading import Seen, Taken, take_reading
from spools.api.pages import ByNumber
from spools.api.permissions import caller
from spools.api.same_person import same_person
from spools.errors import not_found
from spools.marks import mark_key
from spools.models import Reading, SetPoints, TieIn
from spools.solving import Typed
from spools.stored_solutions import stored_finding


class ReadingIn(serializers.Serializer[Any]):
    """A reading as it was typed; ``key`` is the caller's own and makes a repeat harmless."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    job = serializers.CharField(max_length=20)
    mark = serializers.CharField(max_length=16)
    jig = serializers.CharField(max_length=20)
    taken_at = serializers.DateTimeField(required=False)
    leg_a = serializers.CharField(max_length=40)
    leg_b = serializers.CharField(max_length=40)
    included = serializers.CharField(max_length=20)
    burn_a = serializers.CharField(max_length=20, required=False, allow_blank=True, default="")
    burn_b = serializers.CharField(max_length=20, required=False, allow_blank=True, default="")
    closing = serializers.CharField(max_length=40, required=False, allow_blank=True, default="")
    d = serializers.CharField(max_length=40, required=False, allow_blank=True, default="")
    e = serializers.CharField(max_length=40, required=False, allow_blank=True, default="")
    measured_to_a = serializers.CharField(max_length=20, required=False, allow_blank=True, default="")
    measured_to_b = serializers.CharField(max_length=20, required=False, allow_blank=True, default="")
    hand = serializers.ChoiceField(choices=["", *Reading.Hand.values], required=False, default="")
    up_mark = serializers.CharField(max_length=60, required=False, allow_blank=True, default="")
    note = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")
    keep_anyway = serializers.BooleanField(required=False, default=False)
    again = serializers.BooleanField(required=False, default=False)
    version = serializers.IntegerField(
        required=False,
        min_value=1,
        max_value=32767,
        help_text="the jig's set points that were read with; else the newest",
    )
    measured_by = serializers.CharField(
        required=False, max_length=150, help_text="who measured: refused when somebody else is signed in"
    )
    seen_revision = serializers.IntegerField(
        required=False, min_value=0, max_value=32767, help_text="the newest reading that was known, 0 for none"
    )
    seen_stamp = serializers.CharField(required=False, max_length=12, help_text="what was known of the tie-in")
    as_second = serializers.BooleanField(
        required=False, default=False, help_text="taken to compare with the reading that is there"
    )


class ReadingOut(serializers.ModelSerializer[Reading]):
    """A kept reading."""

    mark = serializers.CharField(source="tie_in.mark")
    job = serializers.CharField(source="tie_in.job.number")
    letter = serializers.CharField()
    taken_by = serializers.CharField(source="taken_by.short_name")

    class Meta:
        model = Reading
        fields = [
            "id",
            "job",
            "mark",
            "letter",
            "key",
            "leg_a_text",
            "leg_b_text",
            "included_text",
            "closing_text",
            "leg_a_mm",
            "leg_b_mm",
            "included_deg",
            "closing_mm",
            "closes",
            "findings",
            "taken_by",
            "taken_at",
            "received_at",
        ]


class ReadingList(ListAPIView[Reading]):
    """Readings, newest first; and the door for a new one."""

    serializer_class = ReadingOut
    pagination_class = ByNumber
    filter_backends: list[Any] = []

    def get_queryset(self) -> Any:
        """Only the caller's shop."""
        if getattr(self, "swagger_fake_view", False):
            return Reading.objects.none()
        return Reading.objects.for_person(caller(self.request)).select_related("tie_in__job", "taken_by")


class ReadingNew(APIView):
    """Take one reading."""

    @extend_schema(request=ReadingIn, responses={201: None, 200: None, 409: None, 422: None})
    def post(self, request: Request) -> Response:
        """Answer 201 for a new reading, 200 for a key that is known."""
        body, status = take(request, request.data)
        return Response(body, status=status)


def take(request: Request, typed: Any) -> tuple[dict[str, Any], int]:
    """Take one reading as it came; returns the answer and its status: 201 new, 200 for a key that is known.

    Raises ``ShopError`` as ``take_reading`` does, and DRF's ``ValidationError``.
    """
    given = ReadingIn(data=typed)
    given.is_valid(raise_exception=True)
    data = given.validated_data
    known = Reading.objects.for_person(caller(request)).filter(key=data["key"])
    same_person(request, data.get("measured_by"), did="measured", here=known)
    taken = take_reading(
        tie_in_id=_tie_in_id(request, data),
        set_points_id=_set_points_id(request, data["jig"], data.get("version")),
        typed=Typed(**{name: data[name] for name in Typed.__dataclass_fields__}),
        person=caller(request),
        key=data["key"],
        at=timezone.now(),
        taken_at=data.get("taken_at"),
        keep_anyway=data["keep_anyway"],
        again=data["again"],
        seen=Seen(revision=data.get("seen_revision"), stamp=data.get("seen_stamp", ""), as_second=data["as_second"]),
    )
    return _answer(taken), 200 if taken.repeated else 201


def _tie_in_id(request: Request, data: dict[str, Any]) -> int:
    """Return the tie-in of a mark; a repeat still finds its own when the mark is no longer there."""
    person = caller(request)
    tie_in = TieIn.objects.for_person(person).filter(job__number=data["job"], mark_key=mark_key(data["mark"])).first()
    if tie_in:
        return int(tie_in.id)
    earlier = Reading.objects.for_person(person).filter(key=data["key"]).first()
    if earlier is None:
        raise not_found("tie-in of that mark")
    return int(earlier.tie_in_id)


def _set_points_id(request: Request, serial: str, version: int | None) -> int:
    points = SetPoints.objects.filter(jig__shop_id=caller(request).the_shop_id, jig__serial=serial)
    if version is not None:
        points = points.filter(version=version)
    found = points.order_by("-version").first()
    if found is None:
        raise not_found("jig of that number")
    return int(found.id)


def _answer(taken: Taken) -> dict[str, Any]:
    return {
        "reading": taken.reading.id,
        "letter": taken.reading.letter,
        "revision": taken.reading.revision,
        "closes": taken.reading.closes,
        "spool": taken.spool.id if taken.spool else None,
        "findings": [stored_finding(finding) for finding in taken.findings],
    }
