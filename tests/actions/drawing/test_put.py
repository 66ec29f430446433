"""Drawings are judged by content, kept once, and lettered (bad input rows 55, 56)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from fabshop.actions.drawing import describe_line, put_drawing
from fabshop.actions.drawing.put import MOST_BYTES, clean_name, next_revision
from fabshop.actions.log import undo_entry
from fabshop.actions.stock.material import material_called
from fabshop.errors import BadInput, Clash, NotAllowed, TooLarge
from fabshop.records.drawing import Drawing
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person
from tests.actions.drawing.conftest import part
from tests.factories import DrawingSentFactory, SendingFactory

pytestmark = pytest.mark.django_db
Put = Callable[..., Drawing]


def test_a_dxf_is_read_and_kept_by_its_content(put: Put, media: Path) -> None:
    content = part()
    drawing = put(1, content)
    assert drawing.revision == "A"
    assert drawing.hand == "L"
    assert drawing.read is not None
    assert drawing.read["area_mm2"] == pytest.approx(1800)
    assert (media / drawing.file).read_bytes() == content
    order = Order.objects.get()
    assert (order.file_name, order.file_revision) == ("duct.dxf", "A")
    assert LogEntry.objects.get(kind="drawing").text.endswith("duct.dxf revision A")


def test_the_next_one_gets_the_next_letter_and_the_first_stays(put: Put) -> None:
    put(1, part())
    assert put(1, part(scale=2)).revision == "B"
    assert Drawing.objects.count() == 2
    assert Order.objects.get().file_revision == "B"


def test_the_same_file_again_is_the_drawing_that_is_there(put: Put) -> None:
    content = part()
    assert put(1, content) == put(1, content)


def test_a_letter_is_of_one_file(put: Put) -> None:
    put(1, part(), revision="B")
    with pytest.raises(Clash, match="another file already. Give this one a letter"):
        put(1, part(scale=2), revision="B")


def test_the_same_tap_twice_is_one_drawing(put: Put) -> None:
    content = part()
    first = put(1, content, client_id="tap-1")
    assert put(1, content, client_id="tap-1") == first
    assert Drawing.objects.count() == 1


def test_row_55_what_is_no_dxf_is_kept_as_a_file_whatever_its_name(put: Put) -> None:
    drawing = put(1, b"%PDF-1.7 ...", file_name="duct.dxf")
    assert drawing.read is None
    assert drawing.file.endswith(".bin")


def test_row_55_a_torn_dxf_is_refused_with_a_sentence(put: Put) -> None:
    with pytest.raises(BadInput, match="torn") as caught:
        put(1, b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nabc\n")
    assert caught.value.field == "file"
    assert not Drawing.objects.exists()


def test_row_55_too_large_is_413_with_the_limit(put: Put) -> None:
    with pytest.raises(TooLarge, match="at most 20 MB") as caught:
        put(1, b" " * (MOST_BYTES + 1))
    assert caught.value.status == 413
    with pytest.raises(BadInput, match="The file is empty"):
        put(1, b"")


@pytest.mark.parametrize(
    ("name", "clean"),
    [
        ("../../etc/passwd", "passwd"),
        ("C:\\drawings\\duct.dxf", "duct.dxf"),
        ("<script>.dxf", "_script_.dxf"),
        ("a\x00\nb.dxf", "a__b.dxf"),
        ("..", "drawing"),
        ("Luftkanal ä.dxf", "Luftkanal ä.dxf"),
        ("x" * 300 + ".dxf", "x" * 140 + ".dxf"),
    ],
)
def test_row_56_a_name_is_renamed_to_what_no_disk_minds(name: str, clean: str) -> None:
    assert clean_name(name) == clean


@pytest.mark.parametrize(
    ("taken", "letter"),
    [([], "A"), (["A"], "B"), (["A", "C"], "D"), (["Z"], "AA"), (["AZ"], "BA"),
     (["1.2"], "1.2+"), ([""], "+")],
)  # fmt: skip
def test_the_next_letter(taken: list[str], letter: str) -> None:
    assert next_revision(taken) == letter


def test_only_the_owner_puts_drawings(
    line: OrderLine, helper: Person, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        put_drawing(by=helper, line=line, content=b"x", file_name="x", now=now)


def test_a_given_up_order_takes_no_drawing(
    order: Order, put: Put, now: datetime
) -> None:
    Order.objects.filter(pk=order.pk).update(given_up_at=now)
    with pytest.raises(Clash, match="given up"):
        put(1, part())


def test_what_it_is_cut_of_is_said_in_the_log(
    line: OrderLine, owner: Person, now: datetime
) -> None:
    entry = describe_line(
        by=owner, line=line, now=now, thickness_um=800, material=material_called("5754")
    )
    assert "0.8 mm, Aluminium 5754" in entry.text
    line.refresh_from_db()
    assert line.thickness_um == 800
    with pytest.raises(BadInput, match="0 mm is no sheet"):
        describe_line(by=owner, line=line, now=now, thickness_um=0)


def test_a_drawing_put_by_mistake_is_taken_back_and_may_come_again(
    put: Put, owner: Person, now: datetime
) -> None:
    put(1, part())
    second = put(1, part(scale=2), client_id="tap-2")
    entry = LogEntry.objects.get(before__drawing=second.pk)
    undo_entry(by=owner, entry=entry, now=now)
    assert [one.revision for one in Drawing.objects.all()] == ["A"]
    assert Order.objects.get().file_revision == "A"
    with pytest.raises(Clash, match="was taken back. Put it there anew"):
        put(1, part(scale=2), client_id="tap-2")
    assert put(1, part(scale=2)).revision == "B"


def test_a_drawing_that_was_sent_is_not_taken_back(
    put: Put, owner: Person, now: datetime
) -> None:
    drawing = put(1, part())
    DrawingSentFactory(
        drawing=drawing, sending=SendingFactory(order=drawing.line.order)
    )
    entry = LogEntry.objects.get(before__drawing=drawing.pk)
    with pytest.raises(Clash, match="was sent since"):
        undo_entry(by=owner, entry=entry, now=now)
    assert Drawing.objects.get() == drawing
