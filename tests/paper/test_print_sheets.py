"""print_sheets writes every sheet that a build has."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from freezegun import freeze_time

from fabshop.records.plan import Plan
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT, BuildFactory
from tests.paper.a_frame import a_frame
from tests.paper.pdf import sizes_mm


def print_sheets(to: Path, **options: str) -> list[str]:
    told = StringIO()
    with freeze_time(MOMENT):
        call_command("print_sheets", to=str(to), stdout=told, **options)
    return [Path(line).name for line in told.getvalue().splitlines()]


def test_it_plans_the_teardown_first_if_none_was_accepted(
    demo: Shop, tmp_path: Path
) -> None:
    names = print_sheets(tmp_path / "new", build="tuppence")
    plan = Plan.objects.accepted().get()
    assert plan.edition == "A"
    assert names[:3] == [
        "tuppence-teardown.pdf",
        "tuppence-pull-list.pdf",
        "tuppence-bag-labels.pdf",
    ]
    assert "tuppence-wall.pdf" in names
    assert "tuppence-receiving-P06.pdf" in names
    assert "tuppence-receiving-P01.pdf" not in names
    for name in names:
        made = (tmp_path / "new" / name).read_bytes()
        is_card = name == "tuppence-repair-card.pdf"
        assert set(sizes_mm(made)) == {(105, 148) if is_card else (210, 297)}


def test_it_prints_the_accepted_plan_on_the_paper_asked_for(
    demo_plan: Plan, tmp_path: Path
) -> None:
    names = print_sheets(tmp_path, build="tuppence", paper="letter", apron=True)
    assert names[1] == "tuppence-teardown-apron.pdf"
    folded = (tmp_path / "tuppence-teardown-apron.pdf").read_bytes()
    assert set(sizes_mm(folded)) == {(279, 216)}
    assert Plan.objects.count() == 1
    made = (tmp_path / "tuppence-teardown.pdf").read_bytes()
    assert set(sizes_mm(made)) == {(216, 279)}


def test_an_unknown_build_is_answered_with_those_there_are(
    demo: Shop, tmp_path: Path
) -> None:
    with pytest.raises(CommandError, match=r"No build 'hat'\. There are: .*tuppence"):
        print_sheets(tmp_path, build="hat")


def test_a_build_with_nothing_to_tear_down_still_has_its_wall(
    owner: Person, tmp_path: Path
) -> None:
    BuildFactory(slug="wren", pack_out_at=None)
    assert print_sheets(tmp_path, build="wren") == [
        "wren-wall.pdf",
        "wren-repair-card.pdf",
    ]


def test_a_build_with_a_frame_has_its_copes_in_one_file(
    owner: Person, tmp_path: Path
) -> None:
    a_frame()
    assert "wren-copes.pdf" in print_sheets(tmp_path, build="wren", paper="letter")
    made = (tmp_path / "wren-copes.pdf").read_bytes()
    assert set(sizes_mm(made)) == {(216, 279)}


def test_a_place_that_cannot_be_written_is_one_sentence(
    demo_plan: Plan, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(CommandError, match=r"cannot be written .*Choose another --to"):
        print_sheets(tmp_path / "file" / "dir", build="tuppence")
