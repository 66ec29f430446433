"""The addresses of this face, flat, grouped by noun; everybody adds lines."""

from __future__ import annotations

from django.urls import path

from fabshop.web import hours, now, person, sign_in

urlpatterns = [
    path("", now.now, name="now"),
    # who is in
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-in/<str:token>/", sign_in.sign_in_link, name="sign-in-link"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("people/", person.people, name="people"),
    path("people/add/", person.person_add, name="person-add"),
    path("people/password/", person.password, name="password"),
    path("people/<int:pk>/link/", person.person_link, name="person-link"),
    path("people/<int:pk>/retire/", person.person_retire, name="person-retire"),
    path("people/<int:pk>/back/", person.person_back, name="person-back"),
    # hours
    path("hours/", hours.hours, name="hours"),
    path("hours/add/", hours.hours_add, name="hours-add"),
    path("hours/week/", hours.hours_week, name="hours-week"),
    path("hours/day/", hours.hours_day, name="hours-day"),
    path("hours/<int:pk>/remove/", hours.hours_remove, name="hours-remove"),
]
