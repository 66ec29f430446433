"""What the owner decides on a task: given up, opened again, Plan B."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop.actions.task import choose_fallback, give_up_task, reopen_task
from fabshop.records.task import Fallback, Task
from fabshop.web.gate import for_owner, for_writers
from fabshop.web.tap import tap


@require_POST
@for_owner
def task_give_up(request: HttpRequest, code: str) -> HttpResponse:
    give_up_task(task=get_object_or_404(Task, code=code), **tap(request))
    messages.info(request, f"{code} is given up. What comes after it goes on without.")
    return redirect("task", code)


@require_POST
@for_writers
def task_reopen(request: HttpRequest, code: str) -> HttpResponse:
    reopen_task(task=get_object_or_404(Task, code=code), **tap(request))
    messages.info(request, f"{code} is open again.")
    return redirect("task", code)


@require_POST
@for_owner
def task_plan_b(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Take a lesser way, or go back to the final one; both stay in the log.

    The tap says which, so that two people who both take it have both taken it.
    """
    way = get_object_or_404(Fallback.objects.select_related("task"), pk=pk)
    way = choose_fallback(
        fallback=way,
        chosen=request.POST.get("chosen") != "no",
        confirm=bool(request.POST.get("confirm")),
        **tap(request),
    )
    if way.chosen_at:
        messages.info(request, f"Plan B for {code}: {way.title}.")
    else:
        messages.info(request, f"{code} goes its final way again.")
    return redirect("task", code)
