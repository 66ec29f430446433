"""What a battery question refuses, by the field's path."""

from __future__ import annotations

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.battery import battery_question


@pytest.mark.parametrize(
    ("pack", "start"),
    [
        ({"id": "p", "cells": 0}, "packs[0].cells: "),
        ({"id": "p", "mah": -1}, "packs[0].mah: "),
        ({"id": "p", "volts": 3.7}, "packs[0].volts: unknown field"),
        ({"id": " "}, "packs[0].id: an id is a printable text, not empty"),
    ],
)
def test_what_cannot_be_is_refused_by_name(pack: object, start: str) -> None:
    with pytest.raises(BadQuestion) as refusal:
        battery_question({"packs": [pack]})
    assert refusal.value.message.startswith(start)
