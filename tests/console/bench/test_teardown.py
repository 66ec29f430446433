"""The bench of the teardown question, on sizes that take no time."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fabshop.console.bench.teardown import graph_question, rows
from fabshop.reckoning.ask import reckon
from tests.reckoning.replay import replay

# A small graph of our own: 3 after 1, 4 after 2 or 3.
GRAPH = {"n": 4, "time": [5, 4, 3, 6], "and_pred": {"3": [1]}, "or_pred": {"4": [2, 3]}}


def test_each_question_of_each_size_is_a_row() -> None:
    found = list(rows(None, 20, sizes=((6, 3, 1, 2), (8, 3, 2, 1))))
    assert [row.question for row in found] == ["6/3/1 no 1", "6/3/1 no 2", "8/3/2 no 1"]
    assert all(row.status == "optimal" for row in found)
    assert "optimal" in str(found[0])


@pytest.mark.parametrize(("minutes", "fewest"), [(18, 1), (9, 2), (6, 4)])
@pytest.mark.parametrize("several", [True, False])
def test_a_graph_goes_into_its_fewest_sessions_and_no_fewer(
    minutes: int, fewest: int, several: bool
) -> None:
    question = graph_question(GRAPH, minutes, fewest, fewest if several else 1)
    answer = reckon("teardown", question)
    replay({**question, "time_limit_s": 5}, answer)
    assert answer["totals"]["required"] == 4
    if fewest > 1:
        few = fewest - 1
        fewer = reckon(
            "teardown", graph_question(GRAPH, minutes, few, few if several else 1)
        )
        assert fewer["status"] == "optimal"
        assert fewer["totals"]["required"] < 4


def test_a_published_graph_of_ten_parts_is_asked_in_several_sessions_and_in_one(
    tmp_path: Path,
) -> None:
    (tmp_path / "and_or_instances.json").write_text(json.dumps({"small": GRAPH}))
    assert list(rows(str(tmp_path), 5, sizes=())) == []
    # One of the long parts an evening of 36, as in the published graph of ten.
    times = [30] * 5 + [1] * 5
    ten = {"n": 10, "time": times, "and_pred": {}, "or_pred": {}}
    (tmp_path / "and_or_instances.json").write_text(json.dumps({"ten": ten}))
    found = list(rows(str(tmp_path), 2, sizes=()))
    assert [row.question for row in found[:4]] == [
        "ten CT 36, 5 evenings, 5",
        "ten CT 36, 5 evenings, 1",
        "ten CT 36, 4 evenings, 4",
        "ten CT 36, 4 evenings, 1",
    ]
    assert [row.reached for row in found[:4]] == ["10 of 10"] * 2 + ["9 of 10"] * 2
    assert [row.gap for row in found[:4]] == [
        *["as published"] * 2,
        *["as published: it cannot be all"] * 2,
    ]
    assert len(found) == 16
