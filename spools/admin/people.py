"""People in the office's tables."""

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from spools.admin.forms import NewPersonForm, PersonForm
from spools.admin.typed import PeopleAdmin
from spools.models import Person


@admin.register(Person)
class PersonAdmin(PeopleAdmin):
    """People: who signs in, for which shop, in which roles. The PIN is only ever set on the person's own page."""

    form = PersonForm
    add_form = NewPersonForm
    list_display = ("username", "short_name", "shop", "role_words", "is_active")
    list_filter = ("shop", "is_active", "is_staff")
    list_select_related = ("shop",)
    fieldsets = (
        (None, {"fields": ("username", "password")}),
        ("Who", {"fields": ("first_name", "last_name", "email", "stamp")}),
        ("Where and what", {"fields": ("shop", "roles")}),
        ("Sign-in", {"fields": ("is_active", "is_staff", "is_superuser", "groups", "user_permissions")}),
    )
    add_fieldsets = (
        (None, {"fields": ("username", "last_name", "shop", "roles", "usable_password", "password1", "password2")}),
    )

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        """People are switched off, never deleted: what they did keeps their name."""
        return False
