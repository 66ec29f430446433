"""The people of the shop over HTTP: let in, let in no longer, their passwords."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.shop import (
    add_person,
    bring_back_person,
    make_sign_in_link,
    require,
    retire_person,
    set_password,
)
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import BadInput
from fabshop.records.shop import Person


class PersonRead(serializers.ModelSerializer[Person]):
    class Meta:
        model = Person
        fields = ["id", "name", "role", "is_active"]


class WhoAmI(ShopView):
    """Who this token or session belongs to."""

    @extend_schema(responses=PersonRead)
    def get(self, request: Request) -> Response:
        return Response(PersonRead(self.by()).data)


class OwnPasswordIn(serializers.Serializer[Any]):
    password = serializers.CharField()
    password_now = serializers.CharField(
        required=False, default="", help_text="Needed where one is set already."
    )


class OwnPassword(ShopView):
    """One's own password.

    Setting the same twice changes nothing, so no answer is kept under a key: what is
    kept of a request could give a short password away.
    """

    @extend_schema(request=OwnPasswordIn, responses={204: None})
    def put(self, request: Request) -> HttpResponseBase:
        given = checked(OwnPasswordIn, request)
        by = self.by()
        if by.has_usable_password() and not by.check_password(given["password_now"]):
            raise BadInput("That is not your password now.", field="password_now")
        set_password(by=by, person=by, password=given["password"], now=now())
        return Response(status=204)


class PersonIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=60)
    role = serializers.ChoiceField(choices=words.Role.choices())
    password = serializers.CharField(required=False, allow_null=True, default=None)


class PersonList(ShopView, generics.ListAPIView[Person]):
    queryset = Person.objects.order_by("name")
    serializer_class = PersonRead
    filterset_fields = {"is_active": ["exact"], "role": ["exact"]}

    @extend_schema(request=PersonIn, responses={201: PersonRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(PersonIn, request)
        return self.once(
            request,
            lambda key: PersonRead(add_person(by=self.by(), now=now(), **given)).data,
            status=201,
        )


class PasswordIn(serializers.Serializer[Any]):
    password = serializers.CharField()


class PersonPassword(ShopView):
    """The owner sets somebody's password; no answer is kept under a key (see me/)."""

    @extend_schema(request=PasswordIn, responses={204: None})
    def put(self, request: Request, pk: int) -> HttpResponseBase:
        require(self.by(), "own")
        person = get_object_or_404(Person, pk=pk)
        set_password(
            by=self.by(), person=person, now=now(), **checked(PasswordIn, request)
        )
        return Response(status=204)


class LinkRead(serializers.Serializer[Any]):
    address = serializers.CharField()


class PersonLink(ShopView):
    """A fresh link that signs somebody in once, as on the people page.

    Only its hash is kept, so a repeat makes another; the one before still works.
    """

    @extend_schema(request=None, responses={201: LinkRead})
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        require(self.by(), "own")
        token = make_sign_in_link(person=get_object_or_404(Person, pk=pk), now=now())
        address = request.build_absolute_uri(reverse("sign-in-link", args=[token]))
        return Response({"address": address}, status=201)


class PersonRetire(ShopView):
    """No longer signs in; what they logged stays under their name."""

    @extend_schema(request=None, responses=PersonRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        return _moved(self, request, pk, retire_person)


class PersonBack(ShopView):
    @extend_schema(request=None, responses=PersonRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        return _moved(self, request, pk, bring_back_person)


def _moved(view: ShopView, request: Request, pk: int, verb: Any) -> HttpResponseBase:
    person = get_object_or_404(Person, pk=pk)
    return view.once(
        request,
        lambda key: PersonRead(verb(by=view.by(), person=person, now=now())).data,
    )
