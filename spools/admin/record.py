"""What happened and what was measured: rows that deeds alone write, here to read."""

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from spools.admin.typed import AnyAdmin
from spools.models import Event, JigCheck, Reading, Spool


class ReadOnlyAdmin(AnyAdmin):
    """Rows that the shop's deeds write: here they can be looked at and nothing else."""

    list_per_page = 50
    show_full_result_count = False

    def has_add_permission(self, request: HttpRequest) -> bool:
        """Nobody adds a row here."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        """Nobody changes a row here."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        """Nobody deletes a row here."""
        return False


@admin.register(Event)
class EventAdmin(ReadOnlyAdmin):
    """What happened, newest first."""

    list_display = ("spool", "number", "code", "person", "done_at", "received_at", "reason")
    list_filter = ("code",)
    list_select_related = ("spool__tie_in", "person")
    ordering = ("-id",)


@admin.register(Reading)
class ReadingAdmin(ReadOnlyAdmin):
    """What was measured, newest first."""

    list_display = ("tie_in", "letter", "leg_a_text", "leg_b_text", "included_text", "closes", "taken_by", "taken_at")
    list_filter = ("closes",)
    list_select_related = ("tie_in", "taken_by")
    ordering = ("-id",)


@admin.register(JigCheck)
class JigCheckAdmin(ReadOnlyAdmin):
    """Jigs on their master."""

    list_display = ("jig", "at", "by", "length_off_mm", "included_off_deg", "passed")
    list_select_related = ("jig", "by")


@admin.register(Spool)
class SpoolAdmin(ReadOnlyAdmin):
    """Spools as their events left them."""

    list_display = ("label", "status", "next_step", "live", "due_at")
    list_filter = ("live", "status")
    list_select_related = ("tie_in",)
    search_fields = ("tie_in__mark_key", "tag")
    ordering = ("-id",)
