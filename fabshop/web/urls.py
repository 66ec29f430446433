"""The addresses of this face, flat, grouped by noun; everybody adds lines."""

from __future__ import annotations

from django.urls import path

from fabshop.web import now, sign_in

urlpatterns = [
    path("", now.now, name="now"),
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
]
