"""Spools, tie-ins and loads over the API, to read."""

from typing import Any

import django_filters
from rest_framework import serializers
from rest_framework.generics import ListAPIView, RetrieveAPIView

from spools.api.pages import ByNumber
from spools.api.permissions import caller
from spools.flow.steps import SHOWN
from spools.models import Event, Load, LoadLine, Piece, Spool, TieIn


class PieceOut(serializers.ModelSerializer[Piece]):
    """One piece."""

    heat = serializers.CharField(source="heat.number", default=None)

    class Meta:
        model = Piece
        fields = ["mark", "kind", "nps", "schedule", "exact_cut_mm", "cut_mm", "ends", "marks", "kg", "is_cut", "heat"]


class EventOut(serializers.ModelSerializer[Event]):
    """One event."""

    person = serializers.CharField(source="person.short_name")

    class Meta:
        model = Event
        fields = ["number", "code", "targets", "person", "done_at", "received_at", "reason", "entered_later", "undoes"]


class SpoolRow(serializers.ModelSerializer[Spool]):
    """One spool in a list."""

    mark = serializers.CharField(source="tie_in.mark")
    job = serializers.CharField(source="tie_in.job.number")
    letter = serializers.CharField()
    bench = serializers.CharField(source="bench.name", default=None)

    class Meta:
        model = Spool
        fields = [
            "id",
            "job",
            "mark",
            "letter",
            "live",
            "nps",
            "schedule",
            "status",
            "next_step",
            "rush",
            "hold_count",
            "bench",
            "tag",
            "turn_deg",
            "leg_a_mm",
            "leg_b_mm",
            "check_mm",
            "black_kg",
            "due_at",
            "accepted_at",
            "delivered_at",
        ]


class SpoolOut(SpoolRow):
    """One spool with its pieces and events."""

    pieces = PieceOut(many=True)
    events = EventOut(many=True)

    class Meta(SpoolRow.Meta):
        fields = [*SpoolRow.Meta.fields, "pieces", "events"]


class TieInOut(serializers.ModelSerializer[TieIn]):
    """One tie-in."""

    job = serializers.CharField(source="job.number")
    main = serializers.CharField(source="main.name")
    measured = serializers.SerializerMethodField()

    class Meta:
        model = TieIn
        fields = ["id", "job", "main", "mark", "station_mm", "side", "nps", "schedule", "end_a", "end_b", "measured"]

    def get_measured(self, tie_in: TieIn) -> bool:
        """Whether a reading is there."""
        return tie_in.current_reading_id is not None


class LoadLineOut(serializers.ModelSerializer[LoadLine]):
    """One line of a load."""

    mark = serializers.CharField(source="spool.tie_in.mark")

    class Meta:
        model = LoadLine
        fields = ["spool", "mark", "settled", "note"]


class LoadOut(serializers.ModelSerializer[Load]):
    """One load with its lines."""

    lines = LoadLineOut(many=True)

    class Meta:
        model = Load
        fields = ["number", "kind", "going_to", "left_at", "closed_at", "lines"]


class SpoolFilter(django_filters.FilterSet):
    """What a list of spools can be narrowed to."""

    status = django_filters.ChoiceFilter(choices=[(step.code, step.word) for step in SHOWN])
    live = django_filters.BooleanFilter()
    job = django_filters.CharFilter(field_name="tie_in__job__number", max_length=20)

    class Meta:
        model = Spool
        fields: list[str] = []


class SpoolList(ListAPIView[Spool]):
    """Spools, newest first."""

    serializer_class = SpoolRow
    pagination_class = ByNumber
    filterset_class = SpoolFilter
    queryset = Spool.objects.none()

    def get_queryset(self) -> Any:
        """Only the caller's shop."""
        if getattr(self, "swagger_fake_view", False):
            return Spool.objects.none()
        return Spool.objects.for_person(caller(self.request)).for_lists()


class SpoolOne(RetrieveAPIView[Spool]):
    """One spool."""

    serializer_class = SpoolOut
    filter_backends: list[Any] = []
    lookup_url_kwarg = "spool_id"
    queryset = Spool.objects.none()

    def get_queryset(self) -> Any:
        """Only the caller's shop."""
        if getattr(self, "swagger_fake_view", False):
            return Spool.objects.none()
        return (
            Spool.objects.for_person(caller(self.request))
            .for_lists()
            .prefetch_related("pieces__heat", "events__person")
        )


class TieInList(ListAPIView[TieIn]):
    """Tie-ins, newest first."""

    serializer_class = TieInOut
    pagination_class = ByNumber
    filter_backends: list[Any] = []

    def get_queryset(self) -> Any:
        """Only the caller's shop."""
        if getattr(self, "swagger_fake_view", False):
            return TieIn.objects.none()
        return TieIn.objects.for_person(caller(self.request)).select_related("job", "main")


class LoadList(ListAPIView[Load]):
    """Loads, newest first."""

    serializer_class = LoadOut
    pagination_class = ByNumber
    filter_backends: list[Any] = []

    def get_queryset(self) -> Any:
        """Only the caller's shop."""
        if getattr(self, "swagger_fake_view", False):
            return Load.objects.none()
        return Load.objects.for_person(caller(self.request)).prefetch_related("lines__spool__tie_in")
