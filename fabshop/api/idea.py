"""The Chalk wall over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request

from fabshop.actions.idea import Wanted, add_idea, promote_idea, weigh_idea, wipe_idea
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build
from fabshop.records.idea import Idea
from fabshop.records.order import Supplier

IDEAS = Idea.objects.select_related("person", "build", "task")


class IdeaRead(serializers.ModelSerializer[Idea]):
    person = Code(slug_field="name", read_only=True)
    build = Code(slug_field="slug", read_only=True)
    task = Code(slug_field="code", read_only=True)

    class Meta:
        model = Idea
        fields = ["id", "text", "person", "build", "at", "task", "wiped_at"]


class IdeaIn(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=40_000)
    build = Code(slug_field="slug", queryset=Build.objects.all(), required=False)


class WantedIn(serializers.Serializer[Any]):
    code = serializers.CharField()
    title = serializers.CharField()
    minutes = serializers.IntegerField()
    points = serializers.IntegerField(required=False)
    lead_days = serializers.IntegerField(required=False)
    family = serializers.CharField(required=False)


class PromoteIn(WantedIn):
    supplier = Code(slug_field="code", queryset=Supplier.objects.all(), required=False)


class Weighed(serializers.Serializer[Any]):
    displaces = serializers.CharField()


class IdeaList(ShopView, generics.ListAPIView[Idea]):
    queryset = IDEAS
    serializer_class = IdeaRead

    @extend_schema(request=IdeaIn, responses={201: IdeaRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(IdeaIn, request)

        def act(key: str | None) -> dict[str, Any]:
            told = {"by": self.by(), "now": now(), "client_id": key}
            return IdeaRead(add_idea(**told, **given)).data

        return self.once(request, act, status=201)


class IdeaDetail(generics.RetrieveAPIView[Idea]):
    queryset = IDEAS
    serializer_class = IdeaRead


class IdeaWipe(ShopView):
    @extend_schema(request=None, responses=IdeaRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        idea = get_object_or_404(IDEAS, pk=pk)

        def act(key: str | None) -> dict[str, Any]:
            return IdeaRead(wipe_idea(by=self.by(), idea=idea, now=now())).data

        return self.once(request, act)


class IdeaWeigh(ShopView):
    @extend_schema(request=WantedIn, responses=Weighed)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        idea = get_object_or_404(IDEAS, pk=pk)
        wanted = Wanted(**checked(WantedIn, request))

        def act(key: str | None) -> dict[str, Any]:
            told = weigh_idea(by=self.by(), idea=idea, wanted=wanted, now=now())
            return {"displaces": told}

        return self.once(request, act)


class IdeaPromote(ShopView):
    @extend_schema(request=PromoteIn, responses=IdeaRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        idea = get_object_or_404(IDEAS, pk=pk)
        given = checked(PromoteIn, request)
        supplier = given.pop("supplier", None)

        def act(key: str | None) -> dict[str, Any]:
            return IdeaRead(
                promote_idea(
                    by=self.by(),
                    idea=idea,
                    wanted=Wanted(**given),
                    supplier=supplier,
                    now=now(),
                    client_id=key,
                )
            ).data

        return self.once(request, act)
