"""Steps, undo and holds over the API; the answer is built by hand, for a scan is the busiest call."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from spools.actions.record_step import Tap, record_step
from spools.actions.undo_event import undo_event
from spools.api.permissions import caller
from spools.errors import not_found
from spools.flow.steps import BY_CODE
from spools.models import Bench
from spools.recorded import Recorded


class StepIn(serializers.Serializer[Any]):
    """One tap."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    step = serializers.ChoiceField(choices=list(BY_CODE))
    targets = serializers.ListField(
        child=serializers.CharField(max_length=10), required=False, default=list, max_length=40
    )
    bench = serializers.CharField(max_length=20, required=False, allow_blank=True, default="")
    check_mm = serializers.FloatField(required=False, min_value=0, max_value=1e6)
    included_deg = serializers.FloatField(required=False, min_value=0, max_value=180)
    procedure = serializers.CharField(max_length=30, required=False, allow_blank=True, default="")
    already = serializers.BooleanField(required=False, default=False)
    done_at = serializers.DateTimeField(required=False)
    reason = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")


class UndoIn(serializers.Serializer[Any]):
    """One event to be undone."""

    key = serializers.RegexField(r"^[\x21-\x7e]{8,60}$")
    number = serializers.IntegerField(min_value=1, max_value=2**31 - 1)
    also = serializers.BooleanField(required=False, default=False)
    reason = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")


STEP_IN = StepIn()  # one for all taps: it holds nothing of a request, and copying its fields for each costs a tenth


class StepNew(APIView):
    """Record a step of a spool."""

    @extend_schema(request=StepIn, responses={201: None, 200: None, 409: None, 422: None})
    def post(self, request: Request, spool_id: int) -> Response:
        """Answer 201 for a new event; 200 for a known key, or when somebody was first."""
        data = STEP_IN.run_validation(request.data)
        recorded = record_step(
            spool_id=spool_id,
            step=data["step"],
            person=caller(request),
            key=data["key"],
            at=timezone.now(),
            tap=Tap(
                targets=tuple(data["targets"]),
                bench_id=_bench_id(request, data["bench"]),
                check_mm=data.get("check_mm"),
                included_deg=data.get("included_deg"),
                procedure=data["procedure"],
                already=data["already"],
                done_at=data.get("done_at"),
                reason=data["reason"],
            ),
        )
        return _answer(recorded)


class UndoNew(APIView):
    """Undo an event of a spool."""

    @extend_schema(request=UndoIn, responses={201: None, 200: None, 409: None})
    def post(self, request: Request, spool_id: int) -> Response:
        """Answer 201 for a new undo, 200 for a known key."""
        given = UndoIn(data=request.data)
        given.is_valid(raise_exception=True)
        data = given.validated_data
        recorded = undo_event(spool_id=spool_id, person=caller(request), at=timezone.now(), **data)
        return _answer(recorded)


def _bench_id(request: Request, name: str) -> int | None:
    if not name:
        return None
    bench = Bench.objects.filter(shop_id=caller(request).the_shop_id, name=name).first()
    if bench is None:
        raise not_found("bench of that name")
    return int(bench.id)


def _answer(recorded: Recorded) -> Response:
    event, spool = recorded.event, recorded.spool
    body = {
        "event": event.id,
        "spool": event.spool_id,
        "number": event.number,
        "step": event.code,
        "targets": event.targets,
        "done_at": event.done_at.isoformat(),
        "received_at": event.received_at.isoformat(),
        "status": spool.status,
        "next_step": spool.next_step,
        "repeated": recorded.repeated,
        "words": recorded.words,
    }
    return Response(body, status=200 if recorded.repeated else 201)
