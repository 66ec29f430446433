"""Contradictions of runs: several unsaid on one machine."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from django.db.models import Count

from fabshop.records.overnight import Run
from fabshop.records.shop import Machine


def _machines_on_two_runs() -> Iterator[str]:
    """Nobody has said what several runs of one machine came to."""
    unsaid = Run.objects.unsaid()
    many = unsaid.values("machine").annotate(n=Count("pk")).filter(n__gt=1)
    for machine in Machine.objects.filter(pk__in=many.values("machine")):
        runs = unsaid.filter(machine=machine).order_by("begun_at", "pk")
        tasks = " and ".join(run.task.code for run in runs.select_related("task"))
        yield f"{machine.name} is on {tasks} at once: say what the first came to."


OVERNIGHT_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "machine-on-two-runs": _machines_on_two_runs,
}
