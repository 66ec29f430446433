"""The rack over HTTP: pieces, what is cut, counted and held of them."""

from __future__ import annotations

from typing import Any, cast

from django.db.models import QuerySet
from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.shop import the_shop
from fabshop.actions.stock import (
    add_material,
    add_piece,
    change_piece,
    count_piece,
    cut_piece,
    release_piece,
    reserve_piece,
    retire_piece,
)
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import NotFound
from fabshop.reckoning.facts import PieceFact
from fabshop.reckoning.stock import candidates, mass_mg
from fabshop.records.shop import Shop
from fabshop.records.stock import Material, Piece
from fabshop.records.task import Task
from fabshop.reference.material import materials
from fabshop.snapshot.stock import piece_facts

Data = dict[str, Any]


class MaterialRead(serializers.Serializer[Any]):
    code = serializers.CharField()
    name = serializers.CharField()
    family = serializers.CharField()
    density_g_cm3 = serializers.FloatField()
    source = serializers.CharField()
    is_own = serializers.BooleanField()


class MaterialIn(serializers.Serializer[Any]):
    code = serializers.CharField(max_length=40)
    name = serializers.CharField(max_length=80)
    family = serializers.CharField(max_length=40)
    density_g_cm3 = serializers.DecimalField(max_digits=6, decimal_places=3)
    source = serializers.CharField(max_length=300)


class HeldRead(serializers.Serializer[Any]):
    task = serializers.CharField()
    length = serializers.FloatField()


class PieceRead(serializers.Serializer[Any]):
    """Lengths in millimetres; `left` is below nothing where cuts were made apart."""

    code = serializers.CharField()
    form = serializers.ChoiceField(choices=words.PieceForm.choices())
    material = serializers.CharField()
    section = serializers.CharField()
    left = serializers.FloatField()
    width = serializers.FloatField(allow_null=True)
    free = serializers.FloatField()
    mass_g = serializers.FloatField()
    heat_lot = serializers.CharField()
    place = serializers.CharField()
    is_drop = serializers.BooleanField()
    drop_of = serializers.CharField()
    note = serializers.CharField()
    is_retired = serializers.BooleanField()
    held = HeldRead(many=True)


class PieceIn(serializers.Serializer[Any]):
    """Lengths in millimetres."""

    code = serializers.SlugField(max_length=40)
    form = serializers.ChoiceField(choices=words.PieceForm.choices())
    material = serializers.CharField(max_length=40)
    length = Milli(source="length_um")
    od = Milli(source="od_um", required=False)
    wall = Milli(source="wall_um", required=False)
    thickness = Milli(source="thickness_um", required=False)
    width = Milli(source="width_um", required=False)
    heat_lot = serializers.CharField(max_length=40, required=False, allow_blank=True)
    place = serializers.CharField(max_length=60, required=False, allow_blank=True)
    is_drop = serializers.BooleanField(required=False)
    drop_of = Code(slug_field="code", queryset=Piece.objects.all(), required=False)
    grain = serializers.ChoiceField(choices=words.Grain.choices(), required=False)
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class PieceChange(serializers.Serializer[Any]):
    heat_lot = serializers.CharField(max_length=40, required=False, allow_blank=True)
    place = serializers.CharField(max_length=60, required=False, allow_blank=True)
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class CutIn(serializers.Serializer[Any]):
    length = Milli(source="length_um")
    kerf = Milli(source="kerf_um", required=False)
    task = Code(slug_field="code", queryset=Task.objects.all(), required=False)
    across = serializers.BooleanField(required=False)
    keep_as = serializers.SlugField(max_length=40, required=False)
    rest = serializers.ChoiceField(choices=["scrap", "keep"], required=False)
    waive = serializers.CharField(max_length=160, required=False)
    made_apart = serializers.BooleanField(required=False)


class PieceCountIn(serializers.Serializer[Any]):
    length = Milli(source="length_um")
    width = Milli(source="width_um", required=False)
    reason = serializers.CharField(max_length=160, required=False)


class HoldIn(serializers.Serializer[Any]):
    task = Code(slug_field="code", queryset=Task.objects.all())
    length = Milli(source="length_um", required=False)
    waive = serializers.CharField(max_length=160, required=False)


class LetGoIn(serializers.Serializer[Any]):
    task = Code(slug_field="code", queryset=Task.objects.all())


class GoneIn(serializers.Serializer[Any]):
    why = serializers.CharField(max_length=160)


class CandidateIn(serializers.Serializer[Any]):
    length = Milli(source="length_um")
    material = serializers.CharField(max_length=40)
    section = serializers.CharField(max_length=40, help_text="As it is read: 8 × 1.")
    for_frame = serializers.BooleanField(required=False, default=False)
    task = serializers.CharField(max_length=40, required=False, default="")


class CandidateRead(serializers.Serializer[Any]):
    piece = serializers.CharField()
    left = serializers.FloatField()
    after = serializers.FloatField()


def shown(fact: PieceFact) -> Data:
    return {
        "code": fact.id,
        "form": fact.form,
        "material": fact.material,
        "section": fact.section,
        "left": fact.left_um / 1000,
        "width": fact.wide_um / 1000 if fact.is_flat else None,
        "free": fact.free_um / 1000,
        "mass_g": mass_mg(fact) / 1000,
        "heat_lot": fact.heat_lot,
        "place": fact.place,
        "is_drop": fact.is_drop,
        "drop_of": fact.drop_of,
        "note": fact.note,
        "is_retired": fact.is_retired,
        "held": [{"task": task, "length": um / 1000} for task, um in fact.held],
    }


def shown_piece(piece: Piece) -> Data:
    return shown(piece_facts(Piece.objects.filter(pk=piece.pk))[0])


class MaterialList(ShopView):
    @extend_schema(responses=MaterialRead(many=True))
    def get(self, request: Request) -> Response:
        mine = {row.code: row for row in Material.objects.all()}
        rows = [
            *(_material(row, is_own=row.is_own) for row in mine.values()),
            *(
                _material(row, is_own=False)
                for code, row in materials().items()
                if code not in mine
            ),
        ]
        return Response(rows)

    @extend_schema(request=MaterialIn, responses={201: MaterialRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(MaterialIn, request)
        return self.once(
            request,
            lambda key: _material(
                add_material(by=self.by(), now=now(), client_id=key, **given),
                is_own=True,
            ),
            status=201,
        )


def _material(row: Any, *, is_own: bool) -> Data:
    return {
        "code": row.code,
        "name": row.name,
        "family": row.family,
        "density_g_cm3": row.density_mg_cm3 / 1000,
        "source": row.source,
        "is_own": is_own,
    }


class PieceList(ShopView):
    """What lies on the rack."""

    @extend_schema(
        parameters=[
            OpenApiParameter("place", str),
            OpenApiParameter("material", str),
            OpenApiParameter("form", str),
        ],
        responses=PieceRead(many=True),
    )
    def get(self, request: Request) -> Response:
        rows: QuerySet[Piece] = Piece.objects.on_the_rack()
        for name, field in (
            ("place", "place"),
            ("material", "material__code"),
            ("form", "form"),
        ):
            if seen := request.query_params.get(name, "").replace("\x00", ""):
                rows = rows.filter(**{field: seen})
        facts = piece_facts(cast(Any, rows))
        return Response([shown(fact) for fact in facts])

    @extend_schema(request=PieceIn, responses={201: PieceRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(PieceIn, request)
        return self.once(
            request,
            lambda key: shown_piece(
                add_piece(by=self.by(), now=now(), client_id=key, **given)
            ),
            status=201,
        )


class PieceDetail(ShopView):
    @extend_schema(responses=PieceRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(shown_piece(get_object_or_404(Piece, code=code)))

    @extend_schema(request=PieceChange, responses=PieceRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        given = checked(PieceChange, request)
        return self.once(
            request,
            lambda key: shown_piece(
                change_piece(
                    by=self.by(), piece=piece, now=now(), client_id=key, **given
                )
            ),
        )


class PieceCut(ShopView):
    """A length off a piece; refused on line where it does not fit."""

    @extend_schema(request=CutIn, responses={201: PieceRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        given = checked(CutIn, request)

        def act(key: str | None) -> Data:
            cut_piece(by=self.by(), piece=piece, now=now(), client_id=key, **given)
            return shown_piece(piece)

        return self.once(request, act, status=201)


class PieceCountUp(ShopView):
    @extend_schema(request=PieceCountIn, responses={201: PieceRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        given = checked(PieceCountIn, request)

        def act(key: str | None) -> Data:
            count_piece(by=self.by(), piece=piece, now=now(), client_id=key, **given)
            return shown_piece(piece)

        return self.once(request, act, status=201)


class PieceHold(ShopView):
    @extend_schema(request=HoldIn, responses={201: PieceRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        given = checked(HoldIn, request)

        def act(key: str | None) -> Data:
            reserve_piece(by=self.by(), piece=piece, now=now(), client_id=key, **given)
            return shown_piece(piece)

        return self.once(request, act, status=201)


class PieceLetGo(ShopView):
    @extend_schema(request=LetGoIn, responses=PieceRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        task = checked(LetGoIn, request)["task"]
        held = piece.reservations.filter(task=task, released_at=None).first()
        if held is None:
            raise NotFound(f"{task.code} holds nothing of {piece.code}.")

        def act(key: str | None) -> Data:
            release_piece(by=self.by(), held=held, now=now(), client_id=key)
            return shown_piece(piece)

        return self.once(request, act)


class PieceGone(ShopView):
    @extend_schema(request=GoneIn, responses=PieceRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        piece = get_object_or_404(Piece, code=code)
        given = checked(GoneIn, request)
        return self.once(
            request,
            lambda key: shown_piece(
                retire_piece(
                    by=self.by(), piece=piece, now=now(), client_id=key, **given
                )
            ),
        )


class CandidateList(ShopView):
    """Which pieces a length could be cut from, shortest first; nothing is written."""

    @extend_schema(request=CandidateIn, responses=CandidateRead(many=True))
    def post(self, request: Request) -> Response:
        given = checked(CandidateIn, request)
        rack = Piece.objects.on_the_rack().filter(material__code=given["material"])
        found = candidates(
            [p for p in piece_facts(rack) if p.section == given["section"]],
            given["length_um"],
            kerf_um=(the_shop() or Shop()).kerf_um,
            tasks=(given["task"],) if given["task"] else (),
            for_frame=given["for_frame"],
        )
        return Response(
            [
                {
                    "piece": one.piece.id,
                    "left": one.piece.left_um / 1000,
                    "after": one.after_um / 1000,
                }
                for one in found
            ]
        )
