"""Drafts over HTTP: what was typed or sent and refused, until it is settled."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.log import settle_draft
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import NotAllowed
from fabshop.records.log import Draft


class DraftRead(serializers.ModelSerializer[Draft]):
    class Meta:
        model = Draft
        fields = ["id", "path", "payload", "message", "field", "at", "settled_at"]


class DraftList(ShopView, generics.ListAPIView[Draft]):
    """One's own, those that are settled too."""

    queryset = Draft.objects.all()
    serializer_class = DraftRead
    filterset_fields = {"settled_at": ["isnull"]}

    def get_queryset(self) -> QuerySet[Draft]:
        drafts = super().get_queryset()
        if not self.request.user.is_authenticated:  # only its description is asked for
            return drafts.none()
        return drafts.filter(person=self.by())


class DraftDetail(ShopView):
    @extend_schema(responses=DraftRead)
    def get(self, request: Request, pk: int) -> Response:
        return Response(DraftRead(_draft(self, pk)).data)


class DraftDrop(ShopView):
    """Put aside: sent again and taken, or not wanted. It stays under its address."""

    @extend_schema(request=None, responses=DraftRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        draft = _draft(self, pk)

        def act(key: str | None) -> dict[str, Any]:
            settled = settle_draft(by=self.by(), draft=draft, now=now())
            return dict(DraftRead(settled).data)

        return self.once(request, act)


def _draft(view: ShopView, pk: int) -> Draft:
    draft = get_object_or_404(Draft, pk=pk)
    if draft.person_id != view.by().pk and not view.by().is_owner:
        raise NotAllowed("That draft is somebody else's.")
    return draft
