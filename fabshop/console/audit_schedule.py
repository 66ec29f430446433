"""Contradictions of what was chosen: a spare taken twice, a wish against a Plan B."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator

from fabshop.records.packout import Spare
from fabshop.records.task import Fallback, Task


def _spares_promised_twice() -> Iterator[str]:
    """More pieces of a spare are taken by chosen Plan Bs than there are."""
    takers: dict[str, list[str]] = defaultdict(list)
    chosen = Fallback.objects.filter(
        chosen_at__isnull=False, task__in=Task.objects.unfinished()
    ).select_related("task")
    for way in chosen.order_by("task__code"):
        for code, count in Counter(way.uses.split()).items():
            takers[code] += [way.task.code] * count
    there = dict(Spare.objects.values_list("code", "quantity"))
    for code, tasks in sorted(takers.items()):
        if len(tasks) > there.get(code, 1):
            names = " and ".join(dict.fromkeys(tasks))
            yield f"{code} is promised to {names}: there is {there.get(code, 1)}."


def _wishes_by_plan_b() -> Iterator[str]:
    """Must be had in its final way, and goes by Plan B."""
    both = Task.objects.filter(
        wished_at__isnull=False, fallbacks__chosen_at__isnull=False
    )
    for task in both.distinct():
        yield f"{task} must be had in its final way, and goes by Plan B."


SCHEDULE_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "spare-promised-twice": _spares_promised_twice,
    "wish-by-plan-b": _wishes_by_plan_b,
}
