"""The tubes of a frame over HTTP: drawn, reckoned, mirrored, taken out."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.frame import EndSaid, mirror_tube, remove_tube, set_tube
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.reckoning.frame import EndReckoned, TubeReckoned, reckon_frame
from fabshop.records.frame import Frame, Tube
from fabshop.snapshot.frame import frame_facts

FRAMES = Frame.objects.select_related("build")
# Twenty metres in micrometres.
FAR_UM = 20_000_000


class EndShown(serializers.Serializer[Any]):
    """One end as reckoned; without an angle it has no cope, and `why_not` says why."""

    node = serializers.CharField()
    onto = serializers.CharField()
    joint = serializers.CharField()
    angle_deg = serializers.FloatField(allow_null=True)
    dial_deg = serializers.FloatField(allow_null=True)
    offset_mm = serializers.FloatField()
    past_mm = serializers.FloatField()
    longest_mm = serializers.FloatField(allow_null=True)
    shortest_mm = serializers.FloatField(allow_null=True)
    why_not = serializers.CharField()


class TubeShown(serializers.Serializer[Any]):
    """A tube as reckoned; `cut_mm` is long point to long point, bends developed."""

    mark = serializers.CharField()
    start = serializers.CharField()
    end = serializers.CharField()
    od_mm = serializers.FloatField()
    wall_mm = serializers.FloatField()
    material = serializers.CharField()
    twin = serializers.CharField()
    between_mm = serializers.FloatField(allow_null=True)
    cut_mm = serializers.FloatField(allow_null=True)
    twist_deg = serializers.FloatField(allow_null=True)
    mass_g = serializers.FloatField(allow_null=True)
    ends = EndShown(many=True)
    notes = serializers.ListField(child=serializers.CharField())


def tube_shown(tube: TubeReckoned) -> dict[str, Any]:
    fact = tube.fact
    return {
        "mark": fact.mark,
        "start": fact.start,
        "end": fact.end,
        "od_mm": fact.od_mm,
        "wall_mm": fact.wall_mm,
        "material": fact.material,
        "twin": fact.twin,
        "between_mm": _short(tube.between_mm),
        "cut_mm": _short(tube.cut_mm),
        "twist_deg": _short(tube.twist_deg),
        "mass_g": _short(tube.mass_g),
        "ends": [_end(end) for end in tube.ends],
        "notes": list(tube.said),
    }


def _end(end: EndReckoned) -> dict[str, Any]:
    landed = end.landed if end.cope else None
    return {
        "node": end.node,
        "onto": end.fact.onto,
        "joint": end.fact.joint,
        "angle_deg": _short(landed.angle_deg) if landed else None,
        "dial_deg": _short(landed.dial_deg) if landed else None,
        "offset_mm": _short(landed.offset_mm) if landed else 0.0,
        "past_mm": _short(end.past_mm),
        "longest_mm": end.cope.longest_mm if end.cope else None,
        "shortest_mm": end.cope.shortest_mm if end.cope else None,
        "why_not": end.why_not,
    }


def _short(value: float | None) -> float | None:
    return None if value is None else round(value, 4) + 0.0


class EndIn(serializers.Serializer[Any]):
    """`onto` is the mark it is coped onto; empty where it runs through."""

    onto = serializers.CharField(max_length=20, required=False, allow_blank=True)
    offset_um = serializers.IntegerField(
        min_value=-1_000_000, max_value=1_000_000, required=False
    )
    past_um = serializers.IntegerField(
        min_value=-FAR_UM, max_value=FAR_UM, required=False, allow_null=True
    )
    typed_mdeg = serializers.IntegerField(
        min_value=1,
        max_value=179_999,
        required=False,
        allow_null=True,
        help_text="An angle as measured, held against the frame's own.",
    )
    is_dial = serializers.BooleanField(required=False)
    is_plate = serializers.BooleanField(required=False)
    joint = serializers.CharField(max_length=40, required=False, allow_blank=True)


class BendIn(serializers.Serializer[Any]):
    node = serializers.CharField(max_length=20)
    radius_um = serializers.IntegerField(min_value=1, max_value=FAR_UM)


class TubeIn(serializers.Serializer[Any]):
    start = serializers.CharField(max_length=20)
    end = serializers.CharField(max_length=20)
    od_um = serializers.IntegerField(min_value=1, max_value=1_000_000)
    wall_um = serializers.IntegerField(min_value=1, max_value=500_000)
    material = serializers.CharField(max_length=60, required=False, allow_blank=True)
    density_kgm3 = serializers.IntegerField(
        min_value=100, max_value=25_000, required=False, allow_null=True
    )
    start_end = EndIn(required=False)
    end_end = EndIn(required=False)
    bends = BendIn(many=True, required=False)
    twin = serializers.CharField(max_length=20, required=False, allow_blank=True)
    confirm = serializers.BooleanField(required=False)


class TubeGone(serializers.Serializer[Any]):
    """The marks that are left."""

    marks = serializers.ListField(child=serializers.CharField())


class FrameTube(ShopView):
    @extend_schema(responses=TubeShown)
    def get(self, request: Request, code: str, mark: str) -> Response:
        return Response(_tube(get_object_or_404(FRAMES, code=code), mark))

    @extend_schema(request=TubeIn, responses=TubeShown)
    def put(self, request: Request, code: str, mark: str) -> HttpResponseBase:
        """Draw it, or draw it anew; a doubtful angle is asked about (409)."""
        frame = get_object_or_404(FRAMES, code=code)
        given = checked(TubeIn, request)
        ends = (
            EndSaid(**given.pop("start_end", {})),
            EndSaid(**given.pop("end_end", {})),
        )
        bends = [(bend["node"], bend["radius_um"]) for bend in given.pop("bends", [])]

        def act(key: str | None) -> dict[str, Any]:
            set_tube(
                by=self.by(),
                frame=frame,
                mark=mark,
                ends=ends,
                bends=bends,
                now=now(),
                **given,
            )
            return _tube(frame, mark)

        return self.once(request, act)

    @extend_schema(request=None, responses=TubeGone)
    def delete(self, request: Request, code: str, mark: str) -> HttpResponseBase:
        record = _record(code, mark)

        def act(key: str | None) -> dict[str, Any]:
            remove_tube(by=self.by(), tube=record, now=now())
            marks = record.frame.tubes.values_list("mark", flat=True)
            return {"marks": list(marks)}

        return self.once(request, act)


class MirrorIn(serializers.Serializer[Any]):
    mark = serializers.SlugField(max_length=20)


class FrameTubeMirror(ShopView):
    """Its twin across the middle, with offsets and twist turned round."""

    @extend_schema(request=MirrorIn, responses={201: TubeShown})
    def post(self, request: Request, code: str, mark: str) -> HttpResponseBase:
        record = _record(code, mark)
        given = checked(MirrorIn, request)

        def act(key: str | None) -> dict[str, Any]:
            made = mirror_tube(by=self.by(), tube=record, now=now(), **given)
            return _tube(record.frame, made.mark)

        return self.once(request, act, status=201)


def _record(code: str, mark: str) -> Tube:
    return get_object_or_404(
        Tube.objects.select_related("frame__build", "start", "end"),
        frame__code=code,
        mark=mark,
    )


def _tube(frame: Frame, mark: str) -> dict[str, Any]:
    facts = frame_facts(frame)
    if mark not in facts.tube_by_mark:
        raise Http404
    return tube_shown(reckon_frame(facts).tube(mark))
