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
def test_a_graph_goes_into_its_fewest_sessions_and_no_fewer(
    minutes: int, fewest: int
) -> None:
    question = graph_question(GRAPH, minutes, fewest)
    answer = reckon("teardown", question)
    replay({**question, "time_limit_s": 5}, answer)
    assert answer["totals"]["required"] == 4
    if fewest > 1:
        fewer = reckon("teardown", graph_question(GRAPH, minutes, fewest - 1))
        assert fewer["status"] == "optimal"
        assert fewer["totals"]["required"] < 4


def test_a_folder_of_graphs_is_read_by_name(tmp_path: Path) -> None:
    (tmp_path / "and_or_instances.json").write_text(json.dumps({"small": GRAPH}))
    assert list(rows(str(tmp_path), 5, sizes=())) == []
    ten = {**GRAPH, "n": 10, "time": [7] * 10}
    (tmp_path / "and_or_instances.json").write_text(json.dumps({"ten": ten}))
    found = list(rows(str(tmp_path), 5, sizes=()))
    assert [row.question for row in found[:2]] == ["ten CT 36", "  one session less"]
    assert len(found) == 8
