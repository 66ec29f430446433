"""What a stranger may send: refused with a sentence before anything is built of it."""

from __future__ import annotations

import pytest

from fabshop.errors import BadInput, ShopError, TooLarge
from fabshop.reckoning.drawing.opened import (
    MOST_BYTES,
    MOST_ENTITIES,
    drawn,
    looks_like_dxf,
    opened,
)
from tests.reckoning.drawing.drawn import dxf, new

MANY = {"column_count": 300, "row_count": 300, "column_spacing": 2, "row_spacing": 2}


def refusal(content: bytes) -> ShopError:
    with pytest.raises(ShopError) as caught:
        opened(content)
    assert caught.value.field == "file"
    return caught.value


def test_a_dxf_is_known_by_how_it_begins() -> None:
    document, _ = new()
    assert looks_like_dxf(dxf(document))
    assert looks_like_dxf(b"999\nby a program\n  0\r\nSECTION\r\n")
    assert not looks_like_dxf(b"%PDF-1.7")
    assert not looks_like_dxf(b"")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "does not begin as a DXF does"),
        (b"%PDF-1.7", "does not begin as a DXF does"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00", "Save it as text"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nabc\n", "torn"),
    ],
)
def test_what_is_no_dxf_or_a_torn_one_is_refused(content: bytes, says: str) -> None:
    error = refusal(content)
    assert isinstance(error, BadInput)
    assert says in error.message


def test_a_file_cut_off_in_the_middle_is_refused_or_read_but_never_a_fault() -> None:
    document, model = new()
    for n in range(50):
        model.add_line((n, 0), (n, 5))
    whole = dxf(document)
    for share in (3, 5, 7, 9):
        try:
            opened(whole[: len(whole) * share // 10])
        except BadInput as error:
            assert "torn" in error.message


def test_eight_megabytes_are_too_much() -> None:
    error = refusal(b"0\nSECTION\n" + b" " * MOST_BYTES)
    assert isinstance(error, TooLarge)
    assert error.status == 413
    assert "at most 8 MB are read" in error.message


def test_a_million_entities_are_refused_by_counting() -> None:
    error = refusal(b"0\nSECTION\n2\nENTITIES\n" + b"0\nPOINT\n" * 1_000_000)
    assert isinstance(error, TooLarge)
    assert "1000001 entities" in error.message


def test_blocks_in_blocks_that_come_to_millions_are_refused_before_they_do() -> None:
    document, model = new()
    inner = document.blocks.new("B0")
    inner.add_line((0, 0), (1, 1))
    for n in range(1, 12):
        block = document.blocks.new(f"B{n}")
        for _ in range(10):
            block.add_blockref(f"B{n - 1}", (0, 0))
    model.add_blockref("B11", (0, 0))
    error = refusal(dxf(document))
    assert isinstance(error, TooLarge)
    assert f"100000000000 entities; at most {MOST_ENTITIES}" in error.message


def test_an_array_of_a_block_counts_as_often_as_it_stands_there() -> None:
    document, model = new()
    document.blocks.new("B").add_line((0, 0), (1, 1))
    model.add_blockref("B", (0, 0), dxfattribs=MANY)
    assert "90000 entities" in refusal(dxf(document)).message


def test_a_block_that_holds_itself_is_refused_by_name() -> None:
    document, model = new()
    document.blocks.new("A").add_blockref("B", (0, 0))
    document.blocks.new("B").add_blockref("A", (0, 0))
    model.add_blockref("A", (0, 0))
    assert "holds itself" in refusal(dxf(document)).message


def test_blocks_too_deep_are_refused() -> None:
    document, model = new()
    document.blocks.new("B0").add_line((0, 0), (1, 1))
    for n in range(1, 40):
        document.blocks.new(f"B{n}").add_blockref(f"B{n - 1}", (0, 0))
    model.add_blockref("B39", (0, 0))
    assert "deep" in refusal(dxf(document)).message


def test_what_lies_on_layer_0_of_a_block_is_on_the_layer_of_its_insert() -> None:
    document, model = new()
    block = document.blocks.new("B")
    block.add_line((0, 0), (1, 1))
    block.add_line((0, 0), (1, 2), dxfattribs={"layer": "OWN"})
    model.add_blockref("B", (5, 5), dxfattribs={"layer": "BEND"})
    assert [layer for _, layer in drawn(opened(dxf(document)))] == ["BEND", "OWN"]
