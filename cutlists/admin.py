"""The stock room for the office, to read: every change of a bar is a deed at the saw or the rack."""

from django.contrib import admin

from cutlists.models import CutPlan, StockBar, StockEvent
from spools.admin.record import ReadOnlyAdmin


@admin.register(StockBar)
class StockBarAdmin(ReadOnlyAdmin):
    """Bars and drops."""

    list_display = ("tag", "shop", "nps", "schedule", "material", "heat", "length_u", "state")
    list_filter = ("state", "nps", "schedule")
    list_select_related = ("shop", "heat")
    search_fields = ("tag",)


@admin.register(StockEvent)
class StockEventAdmin(ReadOnlyAdmin):
    """What happened to each bar, newest first."""

    list_display = ("bar", "number", "kind", "length_u", "person", "at", "reason")
    list_filter = ("kind",)
    list_select_related = ("bar", "person")
    ordering = ("-id",)


@admin.register(CutPlan)
class CutPlanAdmin(ReadOnlyAdmin):
    """Cut plans and how good they are proven to be."""

    list_display = ("number", "shop", "nps", "schedule", "state", "verdict", "made_by", "made_at")
    list_filter = ("state",)
    list_select_related = ("shop", "made_by")
