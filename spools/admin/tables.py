"""The shop's own tables: its calendar, benches, jigs, heats and jobs."""

from typing import Any

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from spools.admin.forms import BenchForm
from spools.admin.typed import AnyAdmin, AnyInline
from spools.models import Bench, ClosedDay, Heat, Jig, Job, Main, Reading, SetPoints, Shift, Shop, WorkedDay


class ShiftInline(AnyInline):
    """The shop's shifts."""

    model = Shift
    extra = 0


class ClosedDayInline(AnyInline):
    """Days the shop does not work."""

    model = ClosedDay
    extra = 0


class WorkedDayInline(AnyInline):
    """Days worked outside the usual shifts."""

    model = WorkedDay
    extra = 0


@admin.register(Shop)
class ShopAdmin(AnyAdmin):
    """A shop with its calendar."""

    list_display = ("name", "time_zone", "cut_off", "promise_hours")
    inlines = (ShiftInline, ClosedDayInline, WorkedDayInline)


@admin.register(Bench)
class BenchAdmin(AnyAdmin):
    """Benches and what they can take; down and up is tapped on the floor page."""

    form = BenchForm
    list_display = ("name", "shop", "is_active", "down_since")
    list_filter = ("shop",)
    readonly_fields = ("down_since", "down_reason", "back_expected_at")


class SetPointsInline(AnyInline):
    """Set points: a new version is added, an old one never changed, so old readings keep theirs."""

    model = SetPoints
    extra = 0

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        """A version that readings may rest on stays as it was."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        """As above."""
        return False


@admin.register(Jig)
class JigAdmin(AnyAdmin):
    """Jigs; a check on the master locks and unlocks them."""

    list_display = ("serial", "shop", "locked_reason")
    list_filter = ("shop",)
    readonly_fields = ("locked_reason",)
    inlines = (SetPointsInline,)


@admin.register(Heat)
class HeatAdmin(AnyAdmin):
    """Heat numbers with their certificates."""

    list_display = ("number", "material", "shop", "received_on")
    list_filter = ("shop",)
    search_fields = ("number",)


class MainInline(AnyInline):
    """The mains of a job."""

    model = Main
    extra = 0


@admin.register(Job)
class JobAdmin(AnyAdmin):
    """Jobs; units are fixed once somebody measured."""

    list_display = ("number", "name", "shop", "units", "is_open")
    list_filter = ("shop", "is_open")
    search_fields = ("number", "name")
    inlines = (MainInline,)

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        """A job's unit system stays once a reading exists."""
        measured = obj is not None and Reading.objects.filter(tie_in__job=obj).exists()
        return ("shop", "units") if measured else ()
