"""The bench of schedules, on questions that take no time."""

from __future__ import annotations

import json
from pathlib import Path

from fabshop.console.bench.schedule import (
    job_shop_instances,
    project_instances,
    rows,
)

SMALL = (8, 5)
SM = """\
projects                      :  1
jobs (incl. supersource/sink ):  5
RESOURCES
  - renewable                 :  2   R
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          3           2   3   4
   2        1          1           5
   3        1          1           5
   4        1          1           5
   5        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------------------------------------------------
  1      1     0       0    0
  2      1     8       4    0
  3      1     4       0    1
  4      1     6       3    0
  5      1     0       0    0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1  R 2
    6    1
************************************************************************
"""
SHOP = {
    "tiny": {
        "duration_matrix": [[3, 2], [2, 4]],
        "machines_matrix": [[0, 1], [1, 0]],
        "metadata": {"optimum": 7},
    }
}


def test_a_project_is_read_from_its_text(tmp_path: Path) -> None:
    (tmp_path / "tiny.sm").write_text(SM)
    ((name, best, question),) = project_instances(tmp_path)
    assert (name, best) == ("tiny", None)
    assert [one["capacity"] for one in question["resources"]] == [6, 1]
    fourth = question["activities"][3]
    assert fourth["ways"] == [{"id": "main", "minutes": 6, "uses": {"R1": 3, "R2": 0}}]
    assert question["activities"][4]["after"] == [{"id": n} for n in "234"]


def test_each_instance_is_a_row_and_then_all_of_them(tmp_path: Path) -> None:
    (tmp_path / "tiny.sm").write_text(SM)
    (tmp_path / "best_known.csv").write_text("instance,best_known\ntiny.sm,14\n")
    _, one, ours, plain = rows(str(tmp_path), None, 5, SMALL, seeds=0)
    assert one.startswith("tiny                 best known 14: 14 proven in ")
    assert "plain model 14 proven" in one
    assert ours.startswith("all, ours            1 of 1 proven, 0.00 % over")
    assert plain.startswith("all, plain model     1 of 1 proven, 0.00 % over")


def test_a_job_shop_is_read_from_its_table(tmp_path: Path) -> None:
    (tmp_path / "shops.json").write_text(json.dumps(SHOP))
    ((name, best, question),) = job_shop_instances(tmp_path / "shops.json")
    assert (name, best, len(question["activities"])) == ("tiny", 7, 4)
    _, one, *_ = rows(None, str(tmp_path / "shops.json"), 5, SMALL, seeds=0)
    assert "best known 7: 7 proven" in one


def test_made_up_shops_have_a_first_row_and_another() -> None:
    found = list(rows(None, None, 2, shop=SMALL, seeds=1))
    assert len(found) == 7
    assert found[0].startswith("shop 8/5 load 0.8 no 1, first")
    assert "optimal" in found[1]
    assert found[6].startswith("how sure, ")
    assert "for 2000 runs, chance " in found[6]
