"""The bench of the cut list, on questions that take no time."""

from __future__ import annotations

from pathlib import Path

from fabshop.console.bench.cutting import Row, rows, shop_question, single_lengths

SET = "1\n tiny_00 \n 10.0 4 2\n6\n5.0\n4\n5\n"


def test_shop_questions_are_the_same_for_the_same_seed() -> None:
    assert shop_question(3) == shop_question(3)
    for seed in range(60):
        asked = shop_question(seed)
        assert 12 <= sum(piece["count"] for piece in asked["pieces"]) <= 60
        assert 5 <= len(asked["stock"]) <= 10


def test_the_sets_of_a_file_are_read() -> None:
    ((name, best, question),) = single_lengths(SET)
    assert (name, best) == ("tiny_00", 2)
    assert question["stock"] == [{"id": "bar", "length": 10.0, "count": None}]
    assert [piece["length"] for piece in question["pieces"]] == [6, 5, 4, 5]


def test_each_set_is_a_row_and_then_all_of_them(tmp_path: Path) -> None:
    (tmp_path / "tiny.txt").write_text(SET)
    row, summary, _ = rows(str(tmp_path), 5, cases=0)
    assert isinstance(row, Row)
    assert (row.question, row.status, row.length) == ("tiny_00 (2)", "optimal", 20)
    assert "tiny_00 (2)" in str(row)
    assert str(summary).startswith("tiny, up to 25 pieces: 1 questions, proven 1")
