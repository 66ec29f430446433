"""A refusal keeps what it says, wherever it travels."""

from __future__ import annotations

import pickle

import pytest

from fabshop import errors

KINDS = [
    kind
    for kind in vars(errors).values()
    if isinstance(kind, type) and issubclass(kind, errors.ShopError)
]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_travels_between_processes_whole(
    kind: type[errors.ShopError],
) -> None:
    told = kind(
        "Two faults.",
        field="lines[0]",
        code="two-faults",
        errors=(errors.FieldError("a", "Too long."), errors.FieldError("b", "Empty.")),
    )
    come = pickle.loads(pickle.dumps(told))
    assert type(come) is kind
    assert (str(come), come.field, come.code, come.errors, come.status) == (
        "Two faults.",
        "lines[0]",
        "two-faults",
        told.errors,
        kind.status,
    )


def test_a_named_field_is_listed_with_the_sentence() -> None:
    told = errors.BadInput("Quantity: -1 is less than nothing.", field="quantity")
    assert told.errors == (
        errors.FieldError("quantity", "Quantity: -1 is less than nothing."),
    )
    assert told.code == "bad-input"


def test_a_refusal_of_no_field_lists_none() -> None:
    assert errors.NotAllowed("Only the owner does that.").errors == ()


def test_each_kind_has_an_honest_status_and_a_code_of_its_own() -> None:
    assert {kind.__name__: kind.status for kind in KINDS} == {
        "ShopError": 422,
        "BadInput": 422,
        "BadQuestion": 400,
        "NotFound": 404,
        "NotAllowed": 403,
        "Clash": 409,
        "NeedsAnswer": 409,
        "TooLarge": 413,
        "TookTooLong": 503,
    }
    assert len({kind.code for kind in KINDS}) == len(KINDS)
