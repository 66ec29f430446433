"""The answer to a cut list question, as the plain data that the format names."""

from __future__ import annotations

from collections import deque
from typing import Any

from fabshop.reckoning.cutting.best import Best, rank
from fabshop.reckoning.cutting.problem import Plan, Problem, Sort, at_least_um
from fabshop.reckoning.questions.cutlist import CutlistQuestion

Answer = dict[str, Any]
_AIMS = ("pieces", "cost", "length", "drop")


def answer_of(question: CutlistQuestion, problem: Problem, best: Best) -> Answer:
    """Bars in order of the stock asked, their pieces longest first."""
    answer: Answer = {"status": "optimal"}
    gap = _gap(question, problem, best)
    if gap is not None:
        answer["status"] = "feasible"
        answer["gap"] = gap
    bars, uncut = _bars(question, problem, best.plan)
    answer["bars"] = bars
    answer["short"] = _short(question, problem, uncut)
    by_stock = {stock.id: stock for stock in question.stock}
    by_piece = {piece.id: piece for piece in question.pieces}
    taken = [by_stock[bar["stock"]] for bar in bars]
    length = sum(stock.length for stock in taken)
    cut = sum(by_piece[name].length for bar in bars for name in bar["pieces"])
    answer["totals"] = {
        "opened": len(bars),
        "cost": _tidy(sum(stock.cost for stock in taken)),
        "length": _tidy(length),
        "yield": round(cut / length, 4) if length else 0.0,
    }
    return answer


def _bars(
    question: CutlistQuestion, problem: Problem, plan: Plan
) -> tuple[list[Answer], list[tuple[Sort, str, int]]]:
    """Which of the equal bars and pieces is which: in the order of the question."""
    stock = [_one_by_one(kind.ids) for kind in problem.kinds]
    pieces = [_one_by_one(sort.ids) for sort in problem.sorts]
    place = {stock.id: index for index, stock in enumerate(question.stock)}
    keep_um = at_least_um(question.keep_over)
    bars: list[Answer] = []
    for bar in sorted(plan, key=lambda b: (b.kind, -b.load(problem), b.counts)):
        left_um = problem.left_um(bar.kind, bar.load(problem))
        bars.append(
            {
                "stock": stock[bar.kind].popleft(),
                "pieces": [
                    pieces[index].popleft()
                    for index, count in enumerate(bar.counts)
                    for _ in range(count)
                ],
                "left": left_um / 1000,
                # Nothing left is no drop, however short a drop may be.
                "fate": "drop" if left_um and left_um >= keep_um else "scrap",
            }
        )
    bars.sort(key=lambda bar: place[str(bar["stock"])])
    uncut: list[tuple[Sort, str, int]] = []
    for sort, names in zip(problem.sorts, pieces, strict=True):
        for name in dict.fromkeys(names):
            uncut.append((sort, name, names.count(name)))
    return bars, uncut


def _one_by_one(ids: tuple[tuple[str, int], ...]) -> deque[str]:
    return deque(name for name, count in ids for _ in range(count))


def _short(
    question: CutlistQuestion, problem: Problem, uncut: list[tuple[Sort, str, int]]
) -> list[Answer]:
    short = [
        {"piece": name, "count": count, "why": _too_long(question, problem, sort)}
        for sort in problem.too_long
        for name, count in sort.ids
    ]
    short += [
        {
            "piece": name,
            "count": count,
            "why": "all stock that it fits is needed for other pieces, more of them",
        }
        for _, name, count in uncut
    ]
    place = {piece.id: index for index, piece in enumerate(question.pieces)}
    return sorted(short, key=lambda line: place[str(line["piece"])])


def _too_long(question: CutlistQuestion, problem: Problem, sort: Sort) -> str:
    if not question.stock:
        return "there is no stock"
    over = (sort.length_um - problem.longest_um) / 1000
    trimmed = " after the end trim" if problem.trim_um else ""
    return (
        f"{sort.length_um / 1000:g} mm is {over:g} mm longer than the longest stock"
        f"{trimmed}, {problem.longest_um / 1000:g} mm"
    )


def _gap(question: CutlistQuestion, problem: Problem, best: Best) -> Answer | None:
    """The first aim that is not proven, as people count it."""
    costs = {name: kind.cost for kind in problem.kinds for name, _ in kind.ids}
    unit = next(
        (s.cost / costs[s.id] for s in question.stock if costs.get(s.id, 0)), 1.0
    )
    scales = (1, -unit, -0.001, 0.001)
    reached = rank(problem, best.plan)
    for aim, scale, here, bound in zip(
        _AIMS, scales, reached, best.bounds, strict=True
    ):
        if here < bound:
            return {
                "aim": aim,
                "reached": _tidy(here * scale),
                "bound": _tidy(bound * scale),
            }
    return None


def _tidy(number: float) -> float:
    """Without the noise of floating point; whole numbers as such."""
    rounded = round(number, 6)
    return int(rounded) if rounded == int(rounded) else rounded
