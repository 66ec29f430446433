"""Tables by program: tried whole, bad cells by row and column, then taken."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.order import Supplier

TABLE = "code;name\nbb-mill;Mill of Bodo\nnobody;\n"


def test_a_trial_writes_nothing_and_names_the_bad_cell(api: APIClient) -> None:
    tried = api.post("/api/intake/suppliers/", {"table": TABLE}, format="json")
    assert tried.status_code == 200, tried.content
    told = tried.json()
    assert (told["good"], told["is_written"]) == (1, False)
    assert [(cell["row"], cell["column"]) for cell in told["bad"]] == [(3, "name")]
    assert not Supplier.objects.filter(code="bb-mill").exists()


def test_the_good_rows_are_taken_when_that_is_said(api: APIClient) -> None:
    for accept, is_written in (("all", False), ("good", True)):
        asked = {"table": TABLE, "accept": accept}
        taken = api.post("/api/intake/suppliers/", asked, format="json").json()
        assert taken["is_written"] is is_written
    assert Supplier.objects.get(code="bb-mill").name == "Mill of Bodo"


def test_a_table_of_something_else_is_not_found(api: APIClient) -> None:
    answer = api.post("/api/intake/cats/", {"table": "code\nx\n"}, format="json")
    assert answer.status_code == 404
    assert "There is no table of cats" in answer.json()["detail"]
