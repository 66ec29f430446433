"""The code in the terminal is the code, black on white whatever the terminal is."""

from __future__ import annotations

import segno

from fabshop.console.qr import BLACK_ON_WHITE, PLAIN, QUIET, drawn

LINK = "http://192.168.1.20:8000/sign-in/Zm9yIG9uY2Ugb25seSwgYW5kIG5vIG1vcmU/"
HALVES = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}


def test_what_is_drawn_is_the_code_with_its_quiet_zone() -> None:
    rows: list[list[int]] = []
    for line in drawn(LINK).splitlines():
        pairs = [HALVES[c] for c in line.removeprefix(BLACK_ON_WHITE)[: -len(PLAIN)]]
        rows.append([upper for upper, _ in pairs])
        rows.append([lower for _, lower in pairs])
    code = segno.make(LINK, error="l", micro=False)
    wanted = [list(row) for row in code.matrix_iter(border=QUIET)]
    assert rows[: len(wanted)] == wanted
    assert not any(map(any, rows[len(wanted) :]))


def test_every_line_says_its_colours_and_gives_them_back() -> None:
    for line in drawn(LINK).splitlines():
        assert line.startswith(BLACK_ON_WHITE)
        assert line.endswith(PLAIN)


def test_it_fits_a_narrow_terminal() -> None:
    widths = {
        len(line) - len(BLACK_ON_WHITE + PLAIN) for line in drawn(LINK).splitlines()
    }
    assert len(widths) == 1
    assert widths.pop() <= 60
