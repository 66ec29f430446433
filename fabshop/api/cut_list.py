"""Cut lists over HTTP: what is wanted, the kept answers, and each cut booked."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.stock import (
    add_wish,
    ask_cut_list,
    cut_piece,
    cut_sheet,
    give_up_wish,
)
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.api.stock import PieceRead, shown_piece
from fabshop.clock import now
from fabshop.records.stock import CutList, CutMark, CutWish, Piece
from fabshop.records.task import Task
from fabshop.snapshot.stock import open_wishes

Data = dict[str, Any]


class WishRead(serializers.Serializer[Any]):
    code = serializers.CharField()
    title = serializers.CharField()
    material = serializers.CharField()
    form = serializers.ChoiceField(choices=words.PieceForm.choices())
    section = serializers.CharField()
    length = serializers.FloatField()
    width = serializers.FloatField(allow_null=True)
    left = serializers.IntegerField(help_text="How many are still to be cut.")
    joints = serializers.ListField(child=serializers.CharField())
    task = serializers.CharField()
    is_frame = serializers.BooleanField()


class WishIn(serializers.Serializer[Any]):
    """Millimetres; the finished length, without what is dressed off its ends."""

    code = serializers.SlugField(max_length=40)
    title = serializers.CharField(max_length=120)
    material = serializers.CharField(max_length=40)
    form = serializers.ChoiceField(choices=words.PieceForm.choices())
    length = Milli(source="length_um")
    od = Milli(source="od_um", required=False)
    wall = Milli(source="wall_um", required=False)
    thickness = Milli(source="thickness_um", required=False)
    width = Milli(source="width_um", required=False)
    quantity = serializers.IntegerField(required=False, min_value=1, max_value=500)
    joints = serializers.CharField(max_length=120, required=False, allow_blank=True)
    task = Code(slug_field="code", queryset=Task.objects.all(), required=False)
    is_frame = serializers.BooleanField(required=False)
    grain = serializers.ChoiceField(choices=words.Grain.choices(), required=False)


class CutListRead(serializers.ModelSerializer[CutList]):
    """`answer` is kept as it was given: groups, their bars, each bar's cuts."""

    cut = serializers.SerializerMethodField(help_text="Marks that are cut by now.")

    class Meta:
        model = CutList
        fields = [
            "number",
            "made_at",
            "kerf_um",
            "dressing_um",
            "keep_over_um",
            "answer",
            "cut",
        ]

    def get_cut(self, made: CutList) -> list[str]:
        done = made.marks.filter(cuts__is_taken_back=False)
        return list(done.values_list("mark", flat=True))


class MarkIn(serializers.Serializer[Any]):
    """The length as it was really cut; as on the list where nothing is said."""

    length = Milli(source="length_um", required=False)
    rest = serializers.ChoiceField(choices=["scrap", "keep"], required=False)
    waive = serializers.CharField(max_length=160, required=False)
    made_apart = serializers.BooleanField(required=False)


class SheetIn(serializers.Serializer[Any]):
    """Under which code the drop is kept; scrap where nothing is said."""

    drop_code = serializers.SlugField(max_length=40, required=False)
    waive = serializers.CharField(max_length=160, required=False)


class WishList(ShopView):
    """What is still to be cut."""

    @extend_schema(responses=WishRead(many=True))
    def get(self, request: Request) -> Response:
        return Response(wishes())

    @extend_schema(request=WishIn, responses={201: WishRead(many=True)})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(WishIn, request)

        def act(key: str | None) -> list[Any]:
            add_wish(by=self.by(), now=now(), client_id=key, **given)
            return wishes()

        return self.once(request, act, status=201)


class WishGiveUp(ShopView):
    @extend_schema(request=None, responses=WishRead(many=True))
    def post(self, request: Request, code: str) -> HttpResponseBase:
        wish = get_object_or_404(CutWish, code=code)

        def act(key: str | None) -> list[Any]:
            give_up_wish(by=self.by(), wish=wish, now=now(), client_id=key)
            return wishes()

        return self.once(request, act)


def wishes() -> list[Any]:
    return [
        {
            "code": wish.id,
            "title": wish.title,
            "material": wish.material,
            "form": wish.form,
            "section": wish.section,
            "length": wish.length_um / 1000,
            "width": wish.wide_um / 1000 if wish.wide_um else None,
            "left": wish.count,
            "joints": list(wish.joints),
            "task": wish.task,
            "is_frame": wish.for_frame,
        }
        for wish in open_wishes()
    ]


class CutLists(ShopView):
    """The kept lists, the newest first."""

    @extend_schema(operation_id="cut_list_all", responses=CutListRead(many=True))
    def get(self, request: Request) -> Response:
        return Response(CutListRead(CutList.objects.all()[:20], many=True).data)

    @extend_schema(request=None, responses={201: CutListRead})
    def post(self, request: Request) -> HttpResponseBase:
        return self.once(
            request,
            lambda key: dict(
                CutListRead(ask_cut_list(by=self.by(), now=now(), client_id=key)).data
            ),
            status=201,
        )


class CutListDetail(ShopView):
    @extend_schema(responses=CutListRead)
    def get(self, request: Request, number: int) -> Response:
        made = get_object_or_404(CutList, number=number)
        return Response(CutListRead(made).data)


class MarkCut(ShopView):
    """One cut of a list is made."""

    @extend_schema(request=MarkIn, responses={201: PieceRead})
    def post(self, request: Request, number: int, mark: str) -> HttpResponseBase:
        row = get_object_or_404(
            CutMark.objects.select_related("piece", "wish__task", "cut_list"),
            cut_list__number=number,
            mark=mark,
        )
        given = {"length_um": row.part_um, **checked(MarkIn, request)}

        def act(key: str | None) -> Data:
            cut_piece(
                by=self.by(),
                piece=row.piece,
                mark=row,
                kerf_um=row.kerf_um,
                now=now(),
                client_id=key,
                **given,
            )
            return shown_piece(row.piece)

        return self.once(request, act, status=201)


class SheetCut(ShopView):
    """A whole sheet is cut up as a list drew it."""

    @extend_schema(request=SheetIn, responses={201: PieceRead})
    def post(self, request: Request, number: int, code: str) -> HttpResponseBase:
        made = get_object_or_404(CutList, number=number)
        piece = get_object_or_404(Piece, code=code)
        given = checked(SheetIn, request)

        def act(key: str | None) -> Data:
            cut_sheet(
                by=self.by(),
                cut_list=made,
                piece=piece,
                now=now(),
                client_id=key,
                **given,
            )
            return shown_piece(piece)

        return self.once(request, act, status=201)
