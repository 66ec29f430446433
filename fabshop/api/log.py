"""The shop log over HTTP: read it, add a note, take a line back."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.log import note, undo_entry
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.stock import Piece
from fabshop.records.task import Task


class EntryRead(serializers.ModelSerializer[LogEntry]):
    person = Code(slug_field="name", read_only=True)
    build = Code(slug_field="slug", read_only=True)
    task = Code(slug_field="code", read_only=True)
    component = Code(slug_field="code", read_only=True)
    order = Code(slug_field="code", read_only=True)
    reverses = Code(slug_field="client_id", read_only=True)

    class Meta:
        model = LogEntry
        fields = [
            "client_id",
            "kind",
            "person",
            "build",
            "task",
            "component",
            "order",
            "text",
            "notice",
            "minutes",
            "left_minutes",
            "stuck_on",
            "reverses",
            "at",
            "server_at",
        ]


ENTRIES = LogEntry.objects.select_related(
    "person", "build", "task", "component", "order", "reverses"
)


class NoteIn(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=40_000)
    build = Code(slug_field="slug", queryset=Build.objects.all(), required=False)
    task = Code(slug_field="code", queryset=Task.objects.all(), required=False)
    component = Code(
        slug_field="code", queryset=Component.objects.all(), required=False
    )
    order = Code(slug_field="code", queryset=Order.objects.all(), required=False)
    joint = Code(slug_field="code", queryset=Joint.objects.all(), required=False)
    piece = Code(slug_field="code", queryset=Piece.objects.all(), required=False)
    at = serializers.DateTimeField(required=False)


class EntryList(ShopView, generics.ListAPIView[LogEntry]):
    queryset = ENTRIES
    serializer_class = EntryRead
    filterset_fields = {
        "kind": ["exact"],
        "person__name": ["exact"],
        "build__slug": ["exact"],
        "task__code": ["exact"],
        "order__code": ["exact"],
        "at": ["gte", "lt"],
    }

    @extend_schema(request=NoteIn, responses={201: EntryRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(NoteIn, request)
        return self.once(
            request,
            lambda key: (
                EntryRead(note(by=self.by(), now=now(), client_id=key, **given)).data
            ),
            status=201,
        )


class EntryDetail(ShopView):
    @extend_schema(responses=EntryRead)
    def get(self, request: Request, client_id: str) -> Response:
        return Response(EntryRead(_entry(client_id)).data)


class EntryUndo(ShopView):
    """Within ten minutes, a line is taken back by another that reverses it."""

    @extend_schema(request=None, responses={201: EntryRead})
    def post(self, request: Request, client_id: str) -> HttpResponseBase:
        entry = _entry(client_id)
        return self.once(
            request,
            lambda key: (
                EntryRead(
                    undo_entry(by=self.by(), entry=entry, now=now(), client_id=key)
                ).data
            ),
            status=201,
        )


def _entry(client_id: str) -> LogEntry:
    if "\x00" in client_id:  # PostgreSQL would not even look
        raise Http404
    return get_object_or_404(ENTRIES, client_id=client_id)
