"""Tube frames over HTTP: their nodes, what they come to, what they ask of the saw."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.frame import (
    add_frame,
    change_frame,
    keep_print_fit,
    remove_node,
    set_node,
    take_lines,
    wish_frame,
)
from fabshop.api.field import Code, checked
from fabshop.api.frame_tube import FAR_UM, FRAMES, TubeShown, tube_shown
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.reckoning.frame import frame_cuts, reckon_frame
from fabshop.records.build import Build
from fabshop.records.frame import Frame, Node, PrintFit
from fabshop.snapshot.frame import frame_facts


class FrameRead(serializers.ModelSerializer[Frame]):
    build = Code(slug_field="slug", read_only=True)

    class Meta:
        model = Frame
        fields = ["code", "build", "name", "mirror"]


class FrameIn(serializers.Serializer[Any]):
    build = Code(slug_field="slug", queryset=Build.objects.all())
    code = serializers.SlugField(max_length=40)
    name = serializers.CharField(max_length=120)
    mirror = serializers.ChoiceField(choices=["x", "y", "z"], required=False)


class FrameChange(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=120)
    mirror = serializers.ChoiceField(choices=["x", "y", "z"], required=False)


class NodeShown(serializers.Serializer[Any]):
    code = serializers.CharField()
    x_um = serializers.IntegerField()
    y_um = serializers.IntegerField()
    z_um = serializers.IntegerField()


class FrameShown(FrameRead):
    """The frame and what follows from it."""

    nodes = serializers.SerializerMethodField()
    tubes = serializers.SerializerMethodField()
    mass_g = serializers.SerializerMethodField()
    centre_mm = serializers.SerializerMethodField()

    class Meta(FrameRead.Meta):
        fields = [*FrameRead.Meta.fields, "nodes", "tubes", "mass_g", "centre_mm"]

    def to_representation(self, frame: Frame) -> dict[str, Any]:
        self.reckoned = reckon_frame(frame_facts(frame))
        return dict(super().to_representation(frame))

    @extend_schema_field(NodeShown(many=True))
    def get_nodes(self, frame: Frame) -> Any:
        return NodeShown(frame.nodes.all(), many=True).data

    @extend_schema_field(TubeShown(many=True))
    def get_tubes(self, frame: Frame) -> list[dict[str, Any]]:
        return [tube_shown(tube) for tube in self.reckoned.tubes]

    @extend_schema_field(serializers.FloatField())
    def get_mass_g(self, frame: Frame) -> float:
        return round(self.reckoned.mass_g, 3)

    @extend_schema_field(
        serializers.ListField(child=serializers.FloatField(), allow_null=True)
    )
    def get_centre_mm(self, frame: Frame) -> list[float] | None:
        centre = self.reckoned.centre
        return [round(value, 3) for value in centre] if centre else None


class FrameList(ShopView, generics.ListAPIView[Frame]):
    queryset = FRAMES
    serializer_class = FrameRead
    filterset_fields = {"build__slug": ["exact"]}

    @extend_schema(request=FrameIn, responses={201: FrameShown})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(FrameIn, request)
        return self.once(
            request,
            lambda key: _shown(add_frame(by=self.by(), now=now(), **given)),
            status=201,
        )


class FrameDetail(ShopView):
    @extend_schema(responses=FrameShown)
    def get(self, request: Request, code: str) -> Response:
        return Response(_shown(get_object_or_404(FRAMES, code=code)))

    @extend_schema(request=FrameChange, responses=FrameShown)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        frame = get_object_or_404(FRAMES, code=code)
        given = {"mirror": frame.mirror, **checked(FrameChange, request)}
        return self.once(
            request,
            lambda key: _shown(
                change_frame(by=self.by(), frame=frame, now=now(), **given)
            ),
        )


class NodeIn(serializers.Serializer[Any]):
    x_um = serializers.IntegerField(min_value=-FAR_UM, max_value=FAR_UM)
    y_um = serializers.IntegerField(min_value=-FAR_UM, max_value=FAR_UM)
    z_um = serializers.IntegerField(min_value=-FAR_UM, max_value=FAR_UM)


class FrameNode(ShopView):
    """A node placed or moved; taken out where no tube ends or bends at it."""

    @extend_schema(request=NodeIn, responses=FrameShown)
    def put(self, request: Request, code: str, node: str) -> HttpResponseBase:
        frame = get_object_or_404(FRAMES, code=code)
        given = checked(NodeIn, request)

        def act(key: str | None) -> dict[str, Any]:
            set_node(by=self.by(), frame=frame, code=node, now=now(), **given)
            return _shown(frame)

        return self.once(request, act)

    @extend_schema(request=None, responses=FrameShown)
    def delete(self, request: Request, code: str, node: str) -> HttpResponseBase:
        record = get_object_or_404(
            Node.objects.select_related("frame"), frame__code=code, code=node
        )

        def act(key: str | None) -> dict[str, Any]:
            remove_node(by=self.by(), node=record, now=now())
            return _shown(record.frame)

        return self.once(request, act)


class LinesIn(serializers.Serializer[Any]):
    """Lines of a drawing in millimetres: start x, y, z, then end x, y, z."""

    lines = serializers.ListField(
        child=serializers.ListField(
            child=serializers.FloatField(min_value=-20_000, max_value=20_000),
            min_length=6,
            max_length=6,
        ),
        max_length=2_000,
    )
    tolerance_um = serializers.IntegerField(min_value=0, max_value=50_000)
    od_um = serializers.IntegerField(min_value=1, max_value=1_000_000)
    wall_um = serializers.IntegerField(min_value=1, max_value=500_000)
    material = serializers.CharField(max_length=60, required=False, allow_blank=True)
    accept = serializers.BooleanField(
        required=False, help_text="Draw them; else it is only tried."
    )


class LinesShown(serializers.Serializer[Any]):
    nodes = serializers.ListField(
        child=serializers.ListField(child=serializers.FloatField())
    )
    marks = serializers.ListField(child=serializers.CharField())
    notes = serializers.ListField(child=serializers.CharField())
    is_written = serializers.BooleanField()


class FrameLines(ShopView):
    """An empty frame from lines: ends within the tolerance are one node."""

    @extend_schema(request=LinesIn, responses=LinesShown)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        frame = get_object_or_404(FRAMES, code=code)
        given = checked(LinesIn, request)
        rows = given.pop("lines")
        lines = [((r[0], r[1], r[2]), (r[3], r[4], r[5])) for r in rows]

        def act(key: str | None) -> dict[str, Any]:
            taken = take_lines(
                by=self.by(), frame=frame, lines=lines, now=now(), **given
            )
            return {
                "nodes": [list(node) for node in taken.snapped.nodes],
                "marks": list(taken.marks),
                "notes": list(taken.snapped.notes),
                "is_written": taken.is_written,
            }

        return self.once(request, act)


class CutEndShown(serializers.Serializer[Any]):
    angle_deg = serializers.FloatField(allow_null=True)
    dial_deg = serializers.FloatField(allow_null=True)
    offset_mm = serializers.FloatField()
    onto = serializers.CharField()
    joint = serializers.CharField()


class CutShown(serializers.Serializer[Any]):
    mark = serializers.CharField()
    section = serializers.CharField()
    material = serializers.CharField()
    length_mm = serializers.FloatField()
    twist_deg = serializers.FloatField(allow_null=True)
    ends = CutEndShown(many=True)


class WishedShown(serializers.Serializer[Any]):
    """Codes on the cut list."""

    wishes = serializers.ListField(child=serializers.CharField())


class FrameCuts(ShopView):
    """What the frame asks of the saw, by section, longest first."""

    @extend_schema(responses=CutShown(many=True))
    def get(self, request: Request, code: str) -> Response:
        frame = get_object_or_404(FRAMES, code=code)
        cuts = frame_cuts(reckon_frame(frame_facts(frame)))
        return Response(CutShown(cuts, many=True).data)

    @extend_schema(request=None, responses={201: WishedShown})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        """Put them on the cut list, those that are not on it yet."""
        frame = get_object_or_404(FRAMES, code=code)

        def act(key: str | None) -> dict[str, Any]:
            wishes = wish_frame(by=self.by(), frame=frame, now=now())
            return {"wishes": [wish.code for wish in wishes]}

        return self.once(request, act, status=201)


class PrintFitRead(serializers.ModelSerializer[PrintFit]):
    class Meta:
        model = PrintFit
        fields = ["paper_um", "across_ppm", "along_ppm", "at"]


class PrintFitIn(serializers.Serializer[Any]):
    """What the 50.0 mm bars of the last template measured."""

    across_um = serializers.IntegerField(
        min_value=42_000, max_value=60_000, required=False
    )
    along_um = serializers.IntegerField(
        min_value=42_000, max_value=60_000, required=False
    )
    paper_um = serializers.IntegerField(min_value=0, max_value=1_000, required=False)


class PrintFitList(ShopView, generics.ListAPIView[PrintFit]):
    queryset = PrintFit.objects.all()
    serializer_class = PrintFitRead

    @extend_schema(request=PrintFitIn, responses={201: PrintFitRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(PrintFitIn, request)
        return self.once(
            request,
            lambda key: (
                PrintFitRead(keep_print_fit(by=self.by(), now=now(), **given)).data
            ),
            status=201,
        )


def _shown(frame: Frame) -> dict[str, Any]:
    return dict(FrameShown(FRAMES.get(pk=frame.pk)).data)
