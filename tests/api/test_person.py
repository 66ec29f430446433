"""People by program: let in, retired, brought back; no password is kept anywhere."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.log import Draft, KeptAnswer
from fabshop.records.shop import Person


def test_who_am_i(api: APIClient, owner: Person) -> None:
    assert api.get("/api/me/").json() == {
        "id": owner.pk,
        "name": owner.name,
        "role": "owner",
        "is_active": True,
    }


def test_a_helper_is_added(api: APIClient) -> None:
    made = api.post("/api/people/", {"name": "Ivo", "role": "helper"}, format="json")
    assert made.status_code == 201, made.content
    assert "Ivo" in [row["name"] for row in api.get("/api/people/").json()["results"]]


def test_who_is_retired_signs_in_no_longer_and_may_come_back(
    api: APIClient, helper: Person
) -> None:
    gone = api.post(f"/api/people/{helper.pk}/retire/")
    assert gone.json()["is_active"] is False
    assert api.post(f"/api/people/{helper.pk}/link/").status_code == 409
    back = api.post(f"/api/people/{helper.pk}/back/")
    assert back.json()["is_active"] is True


def test_the_only_owner_is_not_retired(api: APIClient, owner: Person) -> None:
    answer = api.post(f"/api/people/{owner.pk}/retire/")
    assert answer.status_code == 403
    assert "has to stay" in answer.json()["detail"]


def test_a_sign_in_link_is_made_for_a_phone_and_its_secret_is_not_kept(
    api: APIClient, helper: Person
) -> None:
    made = api.post(f"/api/people/{helper.pk}/link/", headers={"Idempotency-Key": "k"})
    assert made.status_code == 201
    assert "/sign-in/" in made.json()["address"]
    assert not KeptAnswer.objects.exists()


def test_ones_own_password_asks_for_the_one_before(
    helpers_api: APIClient, helper: Person
) -> None:
    helper.set_password("first of all")
    helper.save()
    asked = {"password": "second to none", "password_now": "wrong"}
    refused = helpers_api.put("/api/me/password/", asked, format="json")
    assert refused.status_code == 422
    assert refused.json()["errors"][0]["field"] == "password_now"
    assert "second" not in str(list(Draft.objects.values_list("payload")))
    asked["password_now"] = "first of all"
    assert helpers_api.put("/api/me/password/", asked, format="json").status_code == 204
    helper.refresh_from_db()
    assert helper.check_password("second to none")


def test_only_the_owner_sets_somebodys_password(
    api: APIClient, helpers_api: APIClient, owner: Person, helper: Person
) -> None:
    new = {"password": "long enough it is"}
    mine = helpers_api.put(f"/api/people/{owner.pk}/password/", new, format="json")
    assert mine.status_code == 403
    theirs = api.put(f"/api/people/{helper.pk}/password/", new, format="json")
    assert theirs.status_code == 204
    helper.refresh_from_db()
    assert helper.check_password("long enough it is")
