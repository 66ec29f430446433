"""Drafts by program: one's own, read and put aside."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Person
from tests.factories import DraftFactory


def test_what_was_refused_is_listed_read_and_put_aside(
    api: APIClient, owner: Person, helper: Person
) -> None:
    mine = DraftFactory(person=owner)
    DraftFactory(person=helper)
    rows = api.get("/api/drafts/", {"settled_at__isnull": True}).json()["results"]
    assert [row["id"] for row in rows] == [mine.pk]
    assert api.get(f"/api/drafts/{mine.pk}/").json()["message"] == mine.message
    assert api.post(f"/api/drafts/{mine.pk}/drop/").json()["settled_at"]
    assert api.get("/api/drafts/", {"settled_at__isnull": True}).json()["count"] == 0


def test_a_helper_does_not_read_somebody_elses(
    helpers_api: APIClient, owner: Person
) -> None:
    theirs = DraftFactory(person=owner)
    for answer in (
        helpers_api.get(f"/api/drafts/{theirs.pk}/"),
        helpers_api.post(f"/api/drafts/{theirs.pk}/drop/"),
    ):
        assert answer.status_code == 403
        assert "somebody else's" in answer.json()["detail"]
