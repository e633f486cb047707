"""The admin's bases with their types said: Django's own can't be told them at run time."""

from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.forms import AdminUserCreationForm, UserChangeForm

from spools.models import Bench, Person

if TYPE_CHECKING:
    AnyAdmin = admin.ModelAdmin[Any]
    AnyInline = admin.TabularInline[Any, Any]
    PeopleAdmin = UserAdmin[Person]
    BenchFormBase = forms.ModelForm[Bench]
    PersonFormBase = UserChangeForm[Person]
    NewPersonFormBase = AdminUserCreationForm[Person]
else:
    AnyAdmin = admin.ModelAdmin
    AnyInline = admin.TabularInline
    PeopleAdmin = UserAdmin
    BenchFormBase = forms.ModelForm
    PersonFormBase = UserChangeForm
    NewPersonFormBase = AdminUserCreationForm
