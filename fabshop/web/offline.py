"""What a phone takes in beforehand on a secure address: the day, the teardown."""

from __future__ import annotations

import hashlib
import json

from django.contrib.staticfiles.storage import staticfiles_storage
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.cache import never_cache

from fabshop import clock
from fabshop.reckoning.readiness import start_now
from fabshop.records.build import Build
from fabshop.records.plan import PlanStep
from fabshop.snapshot import take
from fabshop.web.gate import signed_in

SCRIPTS = ("shop", "outbox", "store", "picture", "tap", "typed", "count")
DAY = (
    *("now", "log-list", "log-note", "order-list", "goods-in", "kept", "blocked"),
    "pit-list",
)
MOST_TASKS = 12


@never_cache
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker, which browsers take from a secure address only."""
    static = [staticfiles_storage.url(f"web/{name}.js") for name in SCRIPTS]
    static += [staticfiles_storage.url("web/shop.css")]
    static += [staticfiles_storage.url("web/mark.svg")]
    static += [staticfiles_storage.url("django_htmx/htmx-2.min.js")]
    template = "web/outbox/worker.js"
    bare = render_to_string(template, {"release": "", "static": json.dumps(static)})
    release = hashlib.sha256(bare.encode()).hexdigest()[:12]
    told = {"release": release, "static": json.dumps(static)}
    return HttpResponse(render_to_string(template, told), "application/javascript")


@signed_in
def offline(request: HttpRequest) -> HttpResponse:
    """The pages worth a copy: the day's lists, what can be started, the teardown."""
    pages = [reverse(name) for name in DAY]
    for slug in Build.objects.live().values_list("slug", flat=True):
        pages += [reverse(name, args=[slug]) for name in ("build-fitted", "pit")]
    startable = start_now(take(clock.now()))[:MOST_TASKS]
    pages += [reverse("task", args=[one.task]) for one in startable]
    steps = PlanStep.objects.filter(plan__state="accepted").order_by("plan", "number")
    plans: set[int] = set()
    for plan, number in steps.values_list("plan_id", "number"):
        if plan not in plans:
            plans.add(plan)
            pages.append(reverse("plan", args=[plan]))
        pages.append(reverse("plan-step", args=[plan, number]))
    return JsonResponse({"pages": pages})
