"""Draws a QR code in a terminal, dark or light."""

from __future__ import annotations

import segno

# Black on white is said outright: drawn in the terminal's own colours it would be
# inside out on one that is dark, and many phones read none that is inside out.
BLACK_ON_WHITE = "\033[38;5;16;48;5;231m"
PLAIN = "\033[0m"
QUIET = 2


def drawn(text: str) -> str:
    """Lines of half blocks, two rows of the code in each."""
    rows = [
        [bool(module) for module in row]
        for row in segno.make(text, error="l", micro=False).matrix_iter(border=QUIET)
    ]
    if len(rows) % 2:
        rows.append([False] * len(rows[0]))
    halves = {
        (False, False): " ",
        (True, False): "▀",
        (False, True): "▄",
        (True, True): "█",
    }
    return "\n".join(
        BLACK_ON_WHITE
        + "".join(halves[pair] for pair in zip(upper, lower, strict=True))
        + PLAIN
        for upper, lower in zip(rows[::2], rows[1::2], strict=True)
    )
