"""Lines of a DXF come out in space, in millimetres; what is no line is counted."""

from __future__ import annotations

from io import StringIO

import ezdxf
import pytest

from fabshop.errors import BadInput, TooLarge
from fabshop.reckoning.drawing import frame_lines as module
from fabshop.reckoning.drawing.frame_lines import frame_lines


def dxf(unit: int, *lines: tuple[tuple[float, ...], tuple[float, ...]]) -> bytes:
    document = ezdxf.new()
    document.header["$INSUNITS"] = unit
    for start, end in lines:
        document.modelspace().add_line(start, end)
    document.modelspace().add_circle((0, 0), 5)
    out = StringIO()
    document.write(out)
    return out.getvalue().encode()


def test_lines_keep_their_height_and_take_the_file_s_unit() -> None:
    told = frame_lines(dxf(1, ((0, 0, 0), (1, 2, 4))))
    assert told["lines"] == [[0, 0, 0, 25.4, 50.8, 101.6]]
    assert told["unit"] == "in"
    assert told["left_out"] == [("CIRCLE", 1)]


def test_a_file_without_a_unit_is_read_as_millimetres() -> None:
    told = frame_lines(dxf(0, ((0, 0, 0), (10, 0, 0))))
    assert (told["lines"], told["unit"]) == ([[0, 0, 0, 10, 0, 0]], "")


def test_what_is_too_far_too_much_or_no_dxf_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with pytest.raises(BadInput, match="more than 100 m out"):
        frame_lines(dxf(6, ((0, 0, 0), (101, 0, 0))))
    with pytest.raises(BadInput, match="does not begin as a DXF"):
        frame_lines(b"x,y,z")
    monkeypatch.setattr(module, "MOST_LINES", 1)
    with pytest.raises(TooLarge, match="more than 1 lines"):
        frame_lines(dxf(4, ((0, 0, 0), (1, 0, 0)), ((0, 0, 0), (0, 1, 0))))
