"""How quick and how small the pages and the sheet are: rows for the bench."""

from __future__ import annotations

import gzip
import time
from collections.abc import Iterator
from statistics import median

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.actions.years import add_closed_years
from fabshop.clock import now
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from fabshop.words import Role

PAGES = (
    "/",
    "/log/",
    "/orders/",
    "/goods-in/",
    "/builds/tuppence/",
    "/builds/tuppence/tasks/",
    "/teardown/",
    "/blocked/",
    "/api/readiness/",
)
TIMES = 5


def rows(*, with_years: bool = True) -> Iterator[str]:
    """The demo shop's pages; then the same pages behind ten years of records."""
    owner = Person.objects.get(role=Role.OWNER)
    client = Client()
    client.force_login(owner)
    began = time.monotonic()
    asked = ask_teardown(by=owner, build=Build.objects.get(slug="tuppence"), now=now())
    plan = accept_plan(by=owner, plan=asked, now=now())
    yield f"{'teardown asked, likely and late':<34} {time.monotonic() - began:7.2f} s"
    yield from _sheet(client, plan)
    demo = {path: _measured(client, path) for path in PAGES}
    for path, (seconds, queries, size) in demo.items():
        yield f"{path:<34} {seconds * 1000:7.0f} ms {queries:4} queries {size:7} bytes"
    if not with_years:
        return
    add_closed_years(by=owner, now=now())
    for path in PAGES:
        seconds, queries, size = _measured(client, path)
        yield (
            f"{path + ' after ten years':<34} {seconds * 1000:7.0f} ms {queries:4} "
            f"queries {size:7} bytes, {seconds / demo[path][0]:.2f} times the demo"
        )


def _measured(client: Client, path: str) -> tuple[float, int, int]:
    """Median seconds, queries, and bytes as they are sent compressed."""
    seconds = []
    for _ in range(TIMES):
        began = time.perf_counter()
        answer = client.get(path)
        seconds.append(time.perf_counter() - began)
        if answer.status_code != 200:
            raise RuntimeError(f"{path} answered {answer.status_code}")
    with CaptureQueriesContext(connection) as seen:
        answer = client.get(path)
    return median(seconds), len(seen), len(gzip.compress(answer.content))


def _sheet(client: Client, plan: Plan) -> Iterator[str]:
    for turn in ("first", "second"):
        began = time.monotonic()
        answer = client.get(f"/paper/teardown/{plan.pk}.pdf")
        seconds = time.monotonic() - began
        if not answer.content.startswith(b"%PDF"):
            raise RuntimeError("the sheet is no PDF")
        yield f"{f'teardown sheet as PDF, {turn}':<34} {seconds:7.2f} s"
