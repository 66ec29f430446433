"""Questions from a file, from standard input and a line at a time."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

HOME = Path(__file__).resolve().parents[2]
LID = {
    "windows": [["2031-05-05T18:00", "2031-05-05T21:00"]],
    "deadline": "2031-05-05T21:00",
    "components": [{"id": "lid", "off": 4, "on": 6}],
    "tasks": [{"id": "loom", "minutes": 90, "remove": ["lid"]}],
}


def reckon(*args: str, told: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "manage.py", "reckon", *args],
        cwd=HOME,
        input=told,
        capture_output=True,
        text=True,
    )


def test_a_file_is_answered_on_standard_output(tmp_path: Path) -> None:
    file = tmp_path / "problem.json"
    file.write_text(json.dumps(LID))
    done = reckon("teardown", str(file))
    assert done.returncode == 0, done.stderr
    answer = json.loads(done.stdout)
    assert answer["status"] == "optimal"
    assert answer["sessions"][0]["finish"] == "2031-05-05T19:40"


def test_standard_input_is_read_for_a_dash() -> None:
    done = reckon("teardown", "-", told=json.dumps(LID))
    assert json.loads(done.stdout)["totals"]["handling_minutes"] == 10


def test_a_line_is_answered_by_a_line_and_an_error_stops_nothing() -> None:
    bad = {**LID, "tasks": [{"id": "loom", "minutes": 90, "after": ["weld-9"]}]}
    told = "\n".join(json.dumps(line) for line in (LID, bad, LID)) + "\nnot json\n"
    done = reckon("teardown", "-", "--lines", told=told)
    assert done.returncode == 0
    first, second, third, fourth = map(json.loads, done.stdout.splitlines())
    assert first == third
    assert second == {"error": "tasks[0].after[0]: no task 'weld-9'"}
    assert "this is no JSON" in fourth["error"]


@pytest.mark.parametrize(
    ("kind", "question", "line"),
    [
        ("teardown", {**LID, "deadlin": "x"}, "deadlin: unknown field"),
        ("weaving", LID, "kind: no question 'weaving'"),
    ],
)
def test_a_bad_question_is_one_line_and_status_2(
    kind: str, question: dict[str, Any], line: str
) -> None:
    done = reckon(kind, "-", told=json.dumps(question))
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert line in done.stderr


GOOD = json.dumps(LID).encode()
BAD = {
    "no UTF-8": GOOD.replace(b"loom", b"l\xe9"),
    "no JSON (Exceeds the limit": GOOD.replace(b"90", b"9" * 5000),
    "no JSON (maximum recursion": b"[" * 100_000,
    "minutes: told twice": GOOD.replace(
        b'"minutes": 90', b'"minutes": 9, "minutes": 90'
    ),
    "tasks[0].minutes: a text holds half": GOOD.replace(b"90", b'"\\ud800"'),
}


@pytest.mark.parametrize("told", BAD)
def test_what_cannot_even_be_read_is_one_line_and_status_2_too(
    told: str, tmp_path: Path
) -> None:
    file = tmp_path / "problem.json"
    file.write_bytes(BAD[told])
    done = reckon("teardown", str(file))
    assert done.returncode == 2
    assert told in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_lines_go_on_after_what_cannot_even_be_read(tmp_path: Path) -> None:
    file = tmp_path / "many.jsonl"
    file.write_bytes(b"\n".join([*BAD.values(), GOOD]))
    done = reckon("teardown", str(file), "--lines")
    assert done.returncode == 0
    *refused, answered = map(json.loads, done.stdout.splitlines())
    for told, line in zip(BAD, refused, strict=True):
        assert told in line["error"]
    assert answered["status"] == "optimal"


def test_a_missing_file_is_a_sentence() -> None:
    done = reckon("teardown", "no-such-file.json")
    assert done.returncode == 1
    assert "no-such-file.json cannot be read" in done.stderr
