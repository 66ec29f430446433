"""The people pages: who may sign in, the link that lets them in once, passwords."""

import html
import re

import pytest
from django.test import Client

from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_the_owner_lets_a_helper_in(page):
    answer = page.post(
        "/people/add/", {"name": "Teodor", "role": "helper"}, follow=True
    )
    assert "Teodor may sign in as helper." in answer.text
    assert Person.objects.get(name="Teodor").role == "helper"


def test_a_name_that_is_taken_is_refused_at_its_field(page, helper):
    answer = page.post("/people/add/", {"name": helper.name, "role": "helper"})
    assert answer.status_code == 409
    assert f"There is a {helper.name} here already." in answer.text


def test_a_password_that_was_refused_is_neither_shown_nor_kept(page):
    answer = page.post(
        "/people/add/", {"name": "Ida", "role": "helper", "password": "short7c"}
    )
    assert answer.status_code == 422
    assert "it needs at least 8" in answer.text
    assert "short7c" not in answer.text


def link_of(page, person):
    text = page.post(f"/people/{person.pk}/link/").text
    assert "<svg" in text
    return html.unescape(
        re.search(r'href="http://testserver(/sign-in/[^"]+)"', text)[1]
    )


def test_a_link_signs_in_once_and_looking_at_it_does_not_use_it_up(page, helper):
    link = link_of(page, helper)
    phone = Client()
    assert "This link signs you in here, once." in phone.get(link).text
    assert phone.get(link).status_code == 200
    assert phone.get("/").status_code == 302
    assert phone.post(link).url == "/"
    assert phone.get("/").status_code == 200
    second = Client().post(link)
    assert second.status_code == 404
    assert "This sign-in link has been used already" in second.text


def test_a_link_older_than_a_day_opens_nothing(page, helper, frozen):
    link = link_of(page, helper)
    frozen.tick(25 * 3600)
    answer = Client().post(link)
    assert answer.status_code == 404
    assert "This sign-in link is too old." in answer.text


def test_a_helper_makes_no_links(helpers_page, owner):
    assert helpers_page.post(f"/people/{owner.pk}/link/").status_code == 403
    assert "Sign-in link" not in helpers_page.get("/people/").text


def test_who_is_let_in_no_longer_may_come_back(page, helper):
    page.post(f"/people/{helper.pk}/retire/")
    text = page.get("/people/").text
    assert "Were here before" in text
    page.post(f"/people/{helper.pk}/back/")
    assert Person.objects.get(pk=helper.pk).is_active


def test_a_new_password_is_typed_twice_and_the_old_one_once(page, owner):
    asked = {"password_now": "wrong", "password": "b" * 9, "password_again": "b" * 9}
    assert (
        "That is not your password now." in page.post("/people/password/", asked).text
    )
    asked["password_now"] = "a long enough password"
    asked["password_again"] = "c" * 9
    assert "The two are not the same." in page.post("/people/password/", asked).text
    asked["password_again"] = "b" * 9
    assert page.post("/people/password/", asked).status_code == 302
    assert page.get("/people/").status_code == 200, "still signed in"
