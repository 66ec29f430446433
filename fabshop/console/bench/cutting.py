"""How quickly cut lists are found and proven: rows for the bench."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import mean
from typing import Any, NamedTuple

from fabshop.reckoning.ask import reckon

CASES = 60


class Row(NamedTuple):
    """One question: how it ended, and how far the least length is from its bound."""

    question: str
    pieces: int
    seconds: float
    status: str
    length: float
    gap_percent: float
    aim: str

    def __str__(self) -> str:
        return (
            f"{self.question:<34} {self.seconds:7.2f} s  {self.status:<9} "
            f"{self.pieces} pieces, {self.length:g} mm  "
            + (f"{self.aim}: {self.gap_percent:.2f} % to the bound" if self.aim else "")
        ).rstrip()


def rows(folder: str | None, limit: float, cases: int = CASES) -> Iterator[Row | str]:
    """Made-up questions of a small shop; then single-length sets, given a folder.

    `limit` is the time limit of each question in seconds.
    """
    seen = []
    for seed in range(cases):
        seen.append(_row(f"shop no {seed + 1}", {**shop_question(seed)}, limit))
        yield seen[-1]
    yield from _summary("shop size", seen)
    for path in sorted(Path(folder).glob("*.txt")) if folder else []:
        seen = []
        for name, best, question in single_lengths(path.read_text()):
            row = _row(f"{name} ({best})", question, limit)
            seen.append(row)
            yield row
        yield from _summary(path.stem, seen)


def _row(name: str, question: dict[str, Any], limit: float) -> Row:
    began = time.monotonic()
    answer = reckon("cutlist", {**question, "time_limit_s": limit})
    seconds = time.monotonic() - began
    gap = answer.get("gap", {})
    bound, reached = gap.get("bound", 1), gap.get("reached", 1)
    return Row(
        name,
        sum(piece["count"] for piece in question["pieces"]),
        seconds,
        answer["status"],
        answer["totals"]["length"],
        100 * abs(bound - reached) / max(abs(bound), 0.001),
        gap.get("aim", ""),
    )


def _summary(name: str, seen: list[Row]) -> Iterator[str]:
    """Shares proven; "bars" means that cost and length are, whatever the drop."""
    if not seen:
        return
    for word, most in (("up to 25 pieces", 25), ("all", 10**9)):
        some = [row for row in seen if row.pieces <= most]
        if not some:
            continue
        bars = [row for row in some if row.aim in ("", "drop")]
        gaps = [0.0 if row in bars else row.gap_percent for row in some]
        within = [
            f"{sum(row.status == 'optimal' and row.seconds <= s for row in some)}"
            f" in {s} s"
            for s in (1, 2)
        ]
        yield (
            f"{name}, {word}: {len(some)} questions, proven {', '.join(within)}; "
            f"bars proven {len(bars)}; gap of the bars mean {mean(gaps):.3f} %, worst "
            f"{max(gaps):.3f} %; slowest {max(row.seconds for row in some):.2f} s"
        )


def shop_question(seed: int) -> dict[str, Any]:
    """12 to 60 pieces out of a few kinds of bar and the drops of earlier jobs."""
    chance = random.Random(f"cutting {seed}")
    kinds = chance.randint(5, 10)
    bars = chance.randint(1, 3)
    stock: list[dict[str, Any]] = [
        {"id": f"bar-{number}", "length": length, "count": None}
        for number, length in enumerate(chance.sample((1000, 2000, 3000, 6000), bars))
    ]
    longest = max(kind["length"] for kind in stock)
    stock += [
        {
            "id": f"drop-{number}",
            "length": chance.randint(150, max(200, longest * 3 // 4)),
            "count": chance.choice((1, 1, 1, 2)),
        }
        for number in range(kinds - bars)
    ]
    wanted = chance.randint(12, 60)
    pieces: list[dict[str, Any]] = []
    while wanted:
        count = min(wanted, chance.choice((1, 1, 2, 2, 3, 4, 6)))
        length = chance.randint(60, longest * 2 // 5)
        name = f"piece-{len(pieces)}"
        pieces.append({"id": name, "length": length, "count": count})
        wanted -= count
    return {
        "kerf": chance.choice((1, 1.2, 1.5, 2, 3)),
        "end_trim": chance.choice((0, 0, 5)),
        "keep_over": 150,
        "stock": stock,
        "pieces": pieces,
    }


def single_lengths(text: str) -> Iterator[tuple[str, int, dict[str, Any]]]:
    """The sets of one file: a count, then for each a name, a head, its lengths.

    The head is the bar's length, the number of pieces and the fewest bars known.
    """
    words = iter(text.split())
    for _ in range(int(next(words))):
        name = next(words)
        length, number, best = float(next(words)), int(next(words)), int(next(words))
        pieces = [
            {"id": f"piece-{index}", "length": float(next(words)), "count": 1}
            for index in range(number)
        ]
        stock = [{"id": "bar", "length": length, "count": None}]
        yield name, best, {"stock": stock, "pieces": pieces}
