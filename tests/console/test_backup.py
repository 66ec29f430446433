"""The command says what it wrote, or where it could not write."""

from __future__ import annotations

from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from fabshop.records.shop import Person


def test_it_says_what_is_in_the_file(
    owner: Person, tmp_path: Path, settings: Any
) -> None:
    settings.MEDIA_ROOT = tmp_path / "media"
    said = StringIO()
    call_command("backup", str(tmp_path / "shop.tar.gz"), stdout=said)
    assert "2 records and 0 photo files" in said.getvalue()
    assert (tmp_path / "shop.tar.gz").exists()


def test_a_folder_that_is_not_there_is_a_sentence(
    owner: Person, tmp_path: Path
) -> None:
    with pytest.raises(CommandError, match="cannot be written"):
        call_command("backup", str(tmp_path / "nowhere" / "shop.tar.gz"))
