"""The places on a build over HTTP: what is there, what lies over it, on and off."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.build import (
    add_component,
    change_component,
    link_twins,
    put_on,
    retire_component,
    set_covers,
    set_fastenings,
    swap_component,
    take_off,
    unlink_twin,
)
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build, Component, Fastening


class FasteningRead(serializers.ModelSerializer[Fastening]):
    class Meta:
        model = Fastening
        fields = [
            "count",
            "size",
            "locker",
            "torque_mnm",
            "is_single_use",
            "is_screw",
            "bag",
        ]


class ComponentRead(serializers.ModelSerializer[Component]):
    build = Code(slug_field="slug", read_only=True)
    twin = Code(slug_field="code", read_only=True)
    fastenings = FasteningRead(many=True, read_only=True)
    routes = serializers.SerializerMethodField(
        help_text="Each lists what must be off to reach this; one is enough."
    )

    class Meta:
        model = Component
        fields = [
            "code",
            "build",
            "name",
            "state",
            "is_on",
            "twin",
            "side",
            "off_minutes",
            "on_minutes",
            "held_by",
            "is_for_good",
            "watch",
            "mass_mg",
            "mass_basis",
            "place",
            "version",
            "fastenings",
            "routes",
        ]

    @extend_schema_field(
        serializers.ListField(
            child=serializers.ListField(child=serializers.CharField())
        )
    )
    def get_routes(self, component: Component) -> list[list[str]]:
        routes: dict[int, list[str]] = {}
        for cover in component.covers.all():
            routes.setdefault(cover.route, []).append(cover.cover.code)
        return [sorted(routes[number]) for number in sorted(routes)]


COMPONENTS = Component.objects.select_related("build", "twin").prefetch_related(
    "fastenings", "covers__cover"
)


class ComponentFields(serializers.Serializer[Any]):
    """What may be said of a component; all of it optional."""

    name = serializers.CharField(max_length=120, required=False)
    state = serializers.ChoiceField(
        choices=words.ComponentState.choices(), required=False
    )
    side = serializers.ChoiceField(choices=words.Side.choices(), required=False)
    off_minutes = serializers.IntegerField(required=False, allow_null=True)
    on_minutes = serializers.IntegerField(required=False, allow_null=True)
    held_by = serializers.CharField(max_length=120, required=False, allow_blank=True)
    is_for_good = serializers.BooleanField(required=False)
    watch = serializers.CharField(max_length=200, required=False, allow_blank=True)
    place = serializers.CharField(max_length=60, required=False, allow_blank=True)
    mass_mg = serializers.IntegerField(required=False, allow_null=True, min_value=0)
    mass_basis = serializers.ChoiceField(
        choices=words.MassBasis.choices(), required=False
    )
    confirm = serializers.BooleanField(
        required=False, help_text="Yes, handling really takes that long."
    )


class ComponentIn(ComponentFields):
    build = Code(slug_field="slug", queryset=Build.objects.all())
    code = serializers.SlugField(max_length=40)
    name = serializers.CharField(max_length=120)


class ComponentChange(ComponentFields):
    version = serializers.IntegerField()


class ComponentList(ShopView, generics.ListAPIView[Component]):
    queryset = COMPONENTS
    serializer_class = ComponentRead
    filterset_fields = {
        "build__slug": ["exact"],
        "state": ["exact"],
        "is_on": ["exact"],
    }

    @extend_schema(request=ComponentIn, responses={201: ComponentRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(ComponentIn, request)
        return self.once(
            request,
            lambda key: _shown(add_component(by=self.by(), now=now(), **given)),
            status=201,
        )


class ComponentDetail(ShopView):
    @extend_schema(responses=ComponentRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(ComponentRead(get_object_or_404(COMPONENTS, code=code)).data)

    @extend_schema(request=ComponentChange, responses=ComponentRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(ComponentChange, request)
        return self.once(
            request,
            lambda key: _shown(
                change_component(by=self.by(), component=component, now=now(), **given)
            ),
        )


class RoutesIn(serializers.Serializer[Any]):
    routes = serializers.ListField(
        child=serializers.ListField(child=serializers.SlugField(max_length=40))
    )


class ComponentCovers(ShopView):
    """What lies over a component: routes, each a list of codes; a loop is refused."""

    @extend_schema(request=RoutesIn, responses=ComponentRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(RoutesIn, request)

        def act(key: str | None) -> dict[str, Any]:
            set_covers(by=self.by(), component=component, now=now(), **given)
            return _shown(component)

        return self.once(request, act)


class WhenIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False, help_text="By the phone's clock.")


class TakeOffIn(WhenIn):
    with_covers = serializers.BooleanField(
        required=False, help_text="What lies over it comes off too, outermost first."
    )
    confirm = serializers.BooleanField(
        required=False, help_text="Yes, cut out what is on for good."
    )


class ComponentTakeOff(ShopView):
    @extend_schema(request=TakeOffIn, responses=ComponentRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _moved(self, request, code, TakeOffIn, take_off)


class PutOnIn(WhenIn):
    for_now = serializers.CharField(
        required=False,
        help_text="The owner's reason for putting it on over a hold that is not "
        "signed; it must come off again.",
    )


class ComponentPutOn(ShopView):
    @extend_schema(request=PutOnIn, responses=ComponentRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _moved(self, request, code, PutOnIn, put_on)


class SwapIn(serializers.Serializer[Any]):
    state = serializers.ChoiceField(choices=words.ComponentState.choices())
    at = serializers.DateTimeField(required=False)


class ComponentSwap(ShopView):
    """Another thing sits there now: a stand-in, the final part."""

    @extend_schema(request=SwapIn, responses=ComponentRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(SwapIn, request)
        return self.once(
            request,
            lambda key: _shown(
                swap_component(
                    by=self.by(),
                    component=component,
                    now=now(),
                    client_id=key,
                    **given,
                )
            ),
        )


class FasteningIn(serializers.Serializer[Any]):
    count = serializers.IntegerField(min_value=1, max_value=999)
    size = serializers.CharField(max_length=40)
    locker = serializers.ChoiceField(choices=words.Locker.choices(), required=False)
    torque_mnm = serializers.IntegerField(
        required=False, allow_null=True, min_value=0, help_text="Newton millimetres."
    )
    is_single_use = serializers.BooleanField(required=False)
    is_screw = serializers.BooleanField(required=False)
    bag = serializers.CharField(max_length=20, required=False, allow_blank=True)


class FasteningsIn(serializers.Serializer[Any]):
    fastenings = FasteningIn(many=True)


class ComponentFastenings(ShopView):
    @extend_schema(request=FasteningsIn, responses=ComponentRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(FasteningsIn, request)
        return self.once(
            request,
            lambda key: _shown(
                set_fastenings(by=self.by(), component=component, now=now(), **given)
            ),
        )


class TwinIn(serializers.Serializer[Any]):
    twin = Code(slug_field="code", queryset=Component.objects.all(), allow_null=True)
    side = serializers.ChoiceField(choices=words.Side.choices(), required=False)


class ComponentTwin(ShopView):
    """The other of a left and a right; null unlinks them."""

    @extend_schema(request=TwinIn, responses=ComponentRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(TwinIn, request)
        common = {"by": self.by(), "component": component, "now": now()}

        def act(key: str | None) -> dict[str, Any]:
            if given["twin"] is None:
                return _shown(unlink_twin(**common))
            return _shown(link_twins(**common, **given))

        return self.once(request, act)


class ConfirmIn(serializers.Serializer[Any]):
    confirm = serializers.BooleanField(required=False)


class ComponentRetire(ShopView):
    """The place is given up; its history stays and its code is never used again."""

    @extend_schema(request=ConfirmIn, responses=ComponentRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(ConfirmIn, request)
        return self.once(
            request,
            lambda key: _shown(
                retire_component(by=self.by(), component=component, now=now(), **given)
            ),
        )


def _moved(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    move: Any,
) -> HttpResponseBase:
    component = get_object_or_404(Component, code=code)
    given = checked(asks, request)

    def act(key: str | None) -> dict[str, Any]:
        move(by=view.by(), component=component, now=now(), client_id=key, **given)
        return _shown(component)

    return view.once(request, act)


def _shown(component: Component) -> dict[str, Any]:
    return dict(ComponentRead(COMPONENTS.get(pk=component.pk)).data)
