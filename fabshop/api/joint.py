"""Joints over HTTP: told, prepared, moved on, called by colour, accepted, rejected."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.generics import ListAPIView
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.joint import (
    accept_joint,
    add_joint,
    call_colour,
    change_joint,
    link_twin_joints,
    move_joint,
    reject_joint,
    set_joint_covers,
    set_lots,
    strip_cover,
    tick_step,
)
from fabshop.actions.joint.prep import prep_now
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import BadInput
from fabshop.reckoning.prep import StepStand
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint, JointCover
from fabshop.records.task import Task

JOINTS = Joint.objects.select_related("build", "task", "coped_in", "twin")


class PrepStandRead(serializers.Serializer[Any]):
    number = serializers.IntegerField()
    text = serializers.CharField()
    stage = serializers.ChoiceField(choices=words.PrepStage.choices())
    kind = serializers.ChoiceField(choices=words.PrepKind.choices())
    is_stop = serializers.BooleanField()
    is_done = serializers.BooleanField()
    ends_at = serializers.DateTimeField(allow_null=True)
    source = serializers.CharField()


class JointRead(serializers.ModelSerializer[Joint]):
    build = serializers.SlugRelatedField[Any](slug_field="slug", read_only=True)
    task = serializers.SlugRelatedField[Any](slug_field="code", read_only=True)
    coped_in = serializers.SlugRelatedField[Any](slug_field="code", read_only=True)
    twin = serializers.SlugRelatedField[Any](slug_field="code", read_only=True)

    class Meta:
        model = Joint
        exclude = ("id",)


class JointWhole(JointRead):
    steps = PrepStandRead(many=True, read_only=True)


def shown(joint: Joint) -> dict[str, Any]:
    """A joint with its checklist as it stands now."""
    fresh = JOINTS.get(pk=joint.pk)
    told = dict(JointRead(fresh).data)
    told["steps"] = [_step(stand) for stand in prep_now(fresh, now()).stands]
    return told


def _step(stand: StepStand) -> dict[str, Any]:
    step = stand.step
    return {
        "number": step.number,
        "text": step.text,
        "stage": step.stage.value,
        "kind": step.kind.value,
        "is_stop": step.is_stop,
        "is_done": stand.is_done,
        "ends_at": stand.ends_at,
        "source": step.source,
    }


class JointIn(serializers.Serializer[Any]):
    """Lengths in micrometres, angles in thousandths of a degree."""

    code = serializers.CharField(max_length=40)
    build = Code(slug_field="slug", queryset=Build.objects.all())
    name = serializers.CharField(max_length=120)
    material = serializers.CharField(max_length=40)
    onto_material = serializers.CharField(required=False, allow_blank=True)
    metal = serializers.ChoiceField(choices=words.Metal.choices(), required=False)
    cut_od_um = serializers.IntegerField()
    cut_wall_um = serializers.IntegerField()
    onto_od_um = serializers.IntegerField()
    angle_mdeg = serializers.IntegerField()
    offset_um = serializers.IntegerField(
        required=False, min_value=-(10**6), max_value=10**6
    )
    twist_mdeg = serializers.IntegerField(required=False)
    cut_mark = serializers.CharField(required=False, allow_blank=True)
    cut_heat_lot = serializers.CharField(required=False, allow_blank=True)
    onto_heat_lot = serializers.CharField(required=False, allow_blank=True)
    filler = serializers.CharField(required=False, allow_blank=True)
    filler_lot = serializers.CharField(required=False, allow_blank=True)
    gas_mbar = serializers.IntegerField(required=False, allow_null=True)
    task = Code(
        slug_field="code",
        queryset=Task.objects.all(),
        required=False,
        allow_null=True,
    )
    coped_in = Code(
        slug_field="code",
        queryset=Task.objects.all(),
        required=False,
        allow_null=True,
    )


class JointAdd(JointIn):
    state = serializers.ChoiceField(choices=words.JointState.choices(), required=False)
    taken_over = serializers.CharField(required=False, allow_blank=True)
    found = serializers.CharField(required=False, allow_blank=True)
    confirm = serializers.BooleanField(
        default=False,
        help_text="The angle is the one between, whatever the frame says.",
    )


class JointChange(JointIn):
    code = None  # type: ignore[assignment]
    build = None  # type: ignore[assignment]
    name = serializers.CharField(max_length=120, required=False)
    material = serializers.CharField(max_length=40, required=False)
    cut_od_um = serializers.IntegerField(required=False)
    cut_wall_um = serializers.IntegerField(required=False)
    onto_od_um = serializers.IntegerField(required=False)
    angle_mdeg = serializers.IntegerField(required=False)
    heat_waived_why = serializers.CharField(required=False, allow_blank=True)
    dissimilar_why = serializers.CharField(required=False, allow_blank=True)
    seen_version = serializers.IntegerField(required=False)
    confirm = serializers.BooleanField(
        default=False, help_text="The angle is the one between, whatever its twin says."
    )


class JointList(ListAPIView[Joint], ShopView):
    """The joints, of one build or one task or state where asked."""

    serializer_class = JointRead
    queryset = JOINTS
    filterset_fields = ("build__slug", "task__code", "state")

    def get_queryset(self) -> QuerySet[Joint]:
        return JOINTS.order_by("code")

    @extend_schema(request=JointAdd, responses={201: JointWhole})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(JointAdd, request)
        return self.once(
            request,
            lambda key: shown(
                add_joint(by=self.by(), now=now(), client_id=key, **given)
            ),
            status=201,
        )


class JointDetail(ShopView):
    @extend_schema(responses=JointWhole)
    def get(self, request: Request, code: str) -> Response:
        return Response(shown(get_object_or_404(Joint, code=code)))

    @extend_schema(request=JointChange, responses=JointWhole)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, JointChange, change_joint)


class LotsIn(serializers.Serializer[Any]):
    cut_heat_lot = serializers.CharField(required=False, allow_blank=True)
    onto_heat_lot = serializers.CharField(required=False, allow_blank=True)
    filler = serializers.CharField(required=False, allow_blank=True)
    filler_lot = serializers.CharField(required=False, allow_blank=True)


class JointLots(ShopView):
    @extend_schema(request=LotsIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, LotsIn, set_lots)


class StepIn(serializers.Serializer[Any]):
    number = serializers.IntegerField(min_value=1, max_value=1000)
    is_done = serializers.BooleanField(default=True)
    value = serializers.DecimalField(max_digits=9, decimal_places=3, required=False)
    minutes = serializers.IntegerField(required=False)
    at = serializers.DateTimeField(required=False)


class JointStep(ShopView):
    """A step ticked, its mark started, its figure given, or taken away again."""

    @extend_schema(request=StepIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, StepIn, tick_step)


class StateIn(serializers.Serializer[Any]):
    state = serializers.ChoiceField(choices=words.JointState.choices())
    reason = serializers.CharField(required=False, allow_blank=True)
    seen_version = serializers.IntegerField(required=False)
    at = serializers.DateTimeField(required=False)


class JointMoveOn(ShopView):
    @extend_schema(request=StateIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, StateIn, move_joint)


class ColourIn(serializers.Serializer[Any]):
    colour = serializers.ChoiceField(choices=words.Colour.choices())
    verdict = serializers.ChoiceField(choices=["accept", "reject"], required=False)
    reason = serializers.CharField(required=False, allow_blank=True)
    third = serializers.CharField(required=False, allow_blank=True)
    at = serializers.DateTimeField(required=False)


class JointColour(ShopView):
    """Judged by the metal's table; another verdict needs a reason."""

    @extend_schema(request=ColourIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, ColourIn, call_colour)


class AcceptIn(serializers.Serializer[Any]):
    looked = serializers.CharField(required=False, allow_blank=True)
    waive_colour = serializers.CharField(required=False, allow_blank=True)
    seen_version = serializers.IntegerField(required=False)
    at = serializers.DateTimeField(required=False)


class JointAccept(ShopView):
    @extend_schema(request=AcceptIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, AcceptIn, accept_joint)


class RejectIn(serializers.Serializer[Any]):
    reason = serializers.CharField()
    third = serializers.CharField(required=False, allow_blank=True)
    seen_version = serializers.IntegerField(required=False)
    at = serializers.DateTimeField(required=False)


class JointReject(ShopView):
    @extend_schema(request=RejectIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, RejectIn, reject_joint)


class JointTwinIn(serializers.Serializer[Any]):
    twin = Code(slug_field="code", queryset=Joint.objects.all())
    mirror = serializers.BooleanField(default=False)
    confirm = serializers.BooleanField(default=False)
    angles = serializers.BooleanField(
        default=False, help_text="Two angles are both those between."
    )


class JointTwin(ShopView):
    @extend_schema(request=JointTwinIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        joint = get_object_or_404(Joint, code=code)
        given = checked(JointTwinIn, request)
        return self.once(
            request,
            lambda key: shown(
                link_twin_joints(by=self.by(), joint=joint, now=now(), **given)
            ),
        )


class OverIn(serializers.Serializer[Any]):
    paints = serializers.ListField(child=serializers.CharField(), default=list)
    covers = serializers.ListField(child=serializers.CharField(), default=list)
    components = serializers.ListField(child=serializers.CharField(), default=list)


class JointOver(ShopView):
    """The tasks that paint or cover it, and the components that lie over it."""

    @extend_schema(request=OverIn, responses=JointWhole)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        joint = get_object_or_404(Joint, code=code)
        given = checked(OverIn, request)
        tasks = [
            (kind, _named(Task, name, kind.value))
            for kind in words.JointCloses
            for name in given[kind.value]
        ]
        parts = [_named(Component, n, "components") for n in given["components"]]
        return self.once(
            request,
            lambda key: shown(
                set_joint_covers(
                    by=self.by(),
                    joint=joint,
                    tasks=tasks,
                    components=parts,
                    now=now(),
                )
            ),
        )


class StripIn(serializers.Serializer[Any]):
    task = serializers.CharField(help_text="The task whose paint or cover is off.")
    reason = serializers.CharField()


class JointStrip(ShopView):
    @extend_schema(request=StripIn, responses=JointWhole)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        given = checked(StripIn, request)
        task = given["task"].replace("\x00", "")
        cover = get_object_or_404(JointCover, joint__code=code, task__code=task)
        return self.once(
            request,
            lambda key: shown(
                strip_cover(
                    by=self.by(), cover=cover, reason=given["reason"], now=now()
                ).joint
            ),
        )


def _done(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    verb: Any,
) -> HttpResponseBase:
    joint = get_object_or_404(Joint, code=code)
    given = checked(asks, request)

    def act(key: str | None) -> dict[str, Any]:
        return shown(verb(by=view.by(), joint=joint, now=now(), client_id=key, **given))

    return view.once(request, act)


def _named(kind: Any, code: str, field: str) -> Any:
    found = kind.objects.filter(code=code.replace("\x00", "")).first()
    if found is None:
        raise BadInput(f"There is no {code[:40]}.", field=field)
    return found
