"""The command puts back what the other wrote, or says why not."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from fabshop.records.shop import Person


def test_a_shop_that_holds_something_is_left_alone(
    owner: Person, tmp_path: Path
) -> None:
    call_command("backup", str(tmp_path / "shop.tar.gz"))
    with pytest.raises(CommandError, match="holds something already"):
        call_command("restore", str(tmp_path / "shop.tar.gz"))
    assert Person.objects.count() == 1


@pytest.mark.django_db
def test_a_file_that_is_no_backup_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "x").write_text("x")
    with pytest.raises(CommandError, match="not a whole backup"):
        call_command("restore", str(tmp_path / "x"))
