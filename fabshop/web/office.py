"""The back office: every record as a plain table, for the owner's eyes, never changed.

Django's admin with all that writes taken out of it; actions/ alone writes.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.apps import apps
from django.contrib import admin
from django.core.exceptions import PermissionDenied
from django.db.models import (
    BooleanField,
    CharField,
    Field,
    ForeignKey,
    JSONField,
    Model,
    TextField,
)
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from fabshop.web.sign_in import sign_out

# Hashes open nothing by themselves, but they are nobody's business.
SECRET = {"password", "token_hash", "body_hash"}


class Office(admin.AdminSite):
    site_header = "Back office"
    site_title = "Back office"
    index_title = "Every record of the shop, to be read"
    site_url = "/"
    enable_nav_sidebar = False

    def has_permission(self, request: HttpRequest) -> bool:
        return bool(request.user.is_active and getattr(request.user, "is_owner", False))

    def login(
        self, request: HttpRequest, extra_context: dict[str, Any] | None = None
    ) -> HttpResponse:
        """Sign in where everybody does; who is signed in and no owner reads why not."""
        if self.has_permission(request):
            return redirect("admin:index")
        if request.user.is_authenticated:
            raise PermissionDenied("The back office is the owner's.")
        wanted = request.GET.get("next", reverse("admin:index"))
        return redirect(f"{reverse('sign-in')}?{urlencode({'next': wanted})}")

    def password_change(
        self, request: HttpRequest, extra_context: dict[str, Any] | None = None
    ) -> HttpResponse:
        return redirect("password")

    def logout(
        self, request: HttpRequest, extra_context: dict[str, Any] | None = None
    ) -> HttpResponse:
        return sign_out(request)


class Table(admin.ModelAdmin):
    """One kind of record: listed, searched, read."""

    actions = None
    list_per_page = 100
    show_full_result_count = False

    def __init__(self, model: type[Model], site: admin.AdminSite) -> None:
        shown = [field for field in model._meta.fields if field.name not in SECRET]
        self.fields = [field.name for field in shown if not field.primary_key]
        self.list_display = [field.name for field in shown if _is_short(field)]
        self.list_filter = [field.name for field in shown if _is_few(field)]
        self.list_select_related = [
            field.name for field in shown if isinstance(field, ForeignKey)
        ]
        self.search_fields = [
            field.name for field in shown if isinstance(field, CharField | TextField)
        ]
        super().__init__(model, site)

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        return False

    def has_delete_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        return False


def _is_short(field: Field[Any, Any]) -> bool:
    return not isinstance(field, TextField | JSONField)


def _is_few(field: Field[Any, Any]) -> bool:
    return bool(field.choices) or isinstance(field, BooleanField)


office = Office(name="admin")
for _model in apps.get_app_config("records").get_models():
    office.register(_model, Table)
