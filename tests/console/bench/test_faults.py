"""Through cuts and kills nothing is lost and nothing doubled: a few of each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from fabshop.console.bench.faults import Shop, cut, killed
from fabshop.console.bench.start import free_port


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    shop = Shop(str(tmp_path_factory.mktemp("faults")), free_port())
    shop.open()
    yield shop
    shop.kill()


def figures(row: str) -> dict[str, int]:
    return {
        name: int(count) for count, name in re.findall(r"(\d+) (\w[\w ]*)", row[34:])
    }


def test_cuts_before_during_and_after_lose_and_double_nothing(served: Shop) -> None:
    told = figures(cut(served, phones=3, entries=60))
    assert told["tapped"] == told["in the log"] == 60
    assert (told["lost"], told["doubled"], told["still kept"]) == (0, 0, 0)
    assert told["tries"] > 60


def test_a_kill_under_writing_phones_loses_and_doubles_nothing(served: Shop) -> None:
    told = figures(killed(served, phones=4, kills=2))
    assert told["tapped"] == told["in the log"] > 0
    assert (told["lost"], told["doubled"], told["still kept"]) == (0, 0, 0)


def test_what_the_database_holds_is_read_from_its_file(served: Shop) -> None:
    assert (Path(served.folder) / "shop.sqlite3").exists()
    assert len(served.written()) == len(set(served.written()))
