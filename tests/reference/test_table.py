"""Tables are read whole, once, and say where their figures come from."""

from pathlib import Path

import pytest

from fabshop.reference import table as module
from fabshop.reference.table import table


def test_a_table_is_read_once() -> None:
    assert table("materials.csv") is table("materials.csv")


def test_every_table_of_the_project_names_its_sources() -> None:
    names = [path.name for path in module.SHARED.glob("*.csv")]
    assert names
    for name in names:
        assert all(row["source"] for row in table(name))


def test_a_row_without_a_source_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "bare.csv").write_text("code,source\nx,\n")
    monkeypatch.setattr(module, "SHARED", tmp_path)
    with pytest.raises(ValueError, match=r"shared/bare.csv: a row has no source"):
        table("bare.csv")
