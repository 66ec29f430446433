"""What a change of the question may and may not do to the answer."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.small_cases import small_case


def rank(answer: dict[str, Any]) -> tuple[int, int, int, int]:
    totals = answer["totals"]
    return (
        totals["required"],
        totals["points"],
        totals["others"],
        -totals["handling_minutes"],
    )


def later(moment: str, minutes: int) -> str:
    at = datetime.fromisoformat(moment) + timedelta(minutes=minutes)
    return at.isoformat(timespec="minutes")


@pytest.mark.parametrize("seed", range(5000, 5060))
def test_a_later_arrival_never_betters_the_plan(seed: int) -> None:
    asked = small_case(seed)
    before = reckon("teardown", asked)
    for task in asked["tasks"]:
        task["ready"] = later(task.get("ready", asked["windows"][0][0]), 12)
    assert rank(reckon("teardown", asked)) <= rank(before)


@pytest.mark.parametrize("seed", range(5100, 5160))
def test_one_more_session_never_worsens_the_plan(seed: int) -> None:
    asked = {**small_case(seed), "max_sessions": 3, "prefer": "early_finish"}
    answer = reckon("teardown", asked)
    ranks = [
        (
            line["required"],
            line["points"],
            line["others"],
            -line["handling_minutes"],
        )
        for line in answer["choices"]
    ]
    assert ranks == sorted(ranks)
    for count, line in enumerate(answer["choices"], start=1):
        alone = reckon("teardown", {**asked, "max_sessions": count})
        assert alone["choices"] == answer["choices"][:count]
        assert alone["choices"][-1] == line


@pytest.mark.parametrize("seed", range(5200, 5260))
def test_other_names_change_nothing_but_the_names(seed: int) -> None:
    asked = small_case(seed)
    names = {c["id"]: f"z{9 - n}" for n, c in enumerate(asked["components"])}
    names |= {t["id"]: f"a{9 - n}" for n, t in enumerate(asked["tasks"])}

    def renamed(thing: Any) -> Any:
        text = json.dumps(thing)
        for old, new in names.items():
            text = text.replace(f'"{old}"', f'"{new}"').replace(f"'{old}'", f"'{new}'")
            for join in ("lies under ", "which lies under "):
                text = text.replace(f"{join}{old}", f"{join}{new}")
            text = text.replace(f"{old} lies under", f"{new} lies under")
        return json.loads(text)

    assert reckon("teardown", renamed(asked)) == renamed(reckon("teardown", asked))


@pytest.mark.parametrize("seed", range(5300, 5330))
def test_another_order_of_the_lists_reaches_the_same(seed: int) -> None:
    asked = small_case(seed)
    answer = reckon("teardown", asked)
    turned = {
        **asked,
        "components": asked["components"][::-1],
        "tasks": asked["tasks"][::-1],
    }
    again = reckon("teardown", turned)
    assert again["totals"] == answer["totals"]
    first = [line["finish"] for line in answer["choices"]]
    assert [line["finish"] for line in again["choices"]] == first


@pytest.mark.parametrize("seed", range(5400, 5430))
def test_the_same_question_has_the_same_answer(seed: int) -> None:
    assert reckon("teardown", small_case(seed)) == reckon("teardown", small_case(seed))


@pytest.mark.parametrize("seed", range(5500, 5530))
def test_an_hour_more_before_the_deadline_never_worsens_the_plan(seed: int) -> None:
    asked = small_case(seed)
    before = reckon("teardown", asked)
    asked["windows"][-1][1] = later(asked["windows"][-1][1], 60)
    asked["deadline"] = later(asked["deadline"], 90)
    assert rank(reckon("teardown", asked)) >= rank(before)
