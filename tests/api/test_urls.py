"""What the pages write, a program writes too, each at an address of its own."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Callable
from typing import Any

from django.urls import URLPattern

from fabshop.api import urls as api_urls
from fabshop.web import urls as web_urls

# The page's address by name: the API's address by name, and the verb.
PAIRS = {
    "task-start": "POST task-start",
    "task-stop": "POST task-stop",
    "task-done": "POST task-done",
    "task-part-done": "POST task-part-done",
    "task-stuck": "POST task-stuck",
    "log-note": "POST entry-list",
    "log-undo": "POST entry-undo",
    "log-photo": "POST photo-list",
    "receipt-photo": "POST photo-list",
    "plan-step-photo": "POST photo-list",
    "build-new": "POST build-list",
    "build-change": "PATCH build",
    "build-copy": "POST build-copy",
    "build-close": "POST build-close",
    "component-new": "POST component-list",
    "component-off": "POST component-take-off",
    "component-on": "POST component-put-on",
    "component-swap": "POST component-swap",
    "component-change": "PATCH component",
    "component-covers": "PUT component-covers",
    "component-fastenings": "PUT component-fastenings",
    "component-twin": "PUT component-twin",
    "component-retire": "POST component-retire",
    "task-new": "POST task-list",
    "task-change": "PATCH task",
    "task-hold": "POST hold-sign",
    "task-give-up": "POST task-give-up",
    "task-reopen": "POST task-reopen",
    "task-plan-b": "POST fallback-choose",
    "task-after": "PUT task-after",
    "task-needs": "PUT task-needs",
    "task-sites": "PUT task-sites",
    "task-stages": "PUT task-stages",
    "task-readings": "PUT task-readings",
    "task-fallbacks": "PUT task-fallbacks",
    "chalk-wall": "POST idea-list",
    "idea": "POST idea-promote",
    "idea-wipe": "POST idea-wipe",
    "run-start": "POST task-run",
    "run": "POST run-came-out",
    "component-broke": "POST component-broke",
    "order-new": "POST order-list",
    "order-change": "PATCH order",
    "order-sent": "POST order-sent",
    "order-slipped": "POST order-promise",
    "order-give-up": "POST order-give-up",
    "order-receive": "POST order-receive",
    "order-shut": "POST order-leave-shut",
    "line-new": "POST line-list",
    "line-change": "PATCH line",
    "line-settle": "POST order-settle",
    "receipt-take-back": "POST receipt-take-back",
    "supplier-new": "POST supplier-list",
    "intake": "POST intake",
    "plan-ask": "POST plan-list",
    "plan-accept": "POST plan-accept",
    "plan-add": "POST plan-add",
    "plan-tick": "POST plan-tick",
    "draft-drop": "POST draft-drop",
    "setup": "POST shop",
    "person-add": "POST person-list",
    "password": "PUT own-password",
    "person-link": "POST person-link",
    "person-retire": "POST person-retire",
    "person-back": "POST person-back",
    "hours-add": "POST window-list",
    "hours-week": "PUT week",
    "hours-day": "PUT day",
    "hours-remove": "DELETE window",
}
# A program is let in by its token, so it signs neither in nor out.
PAGES_ONLY = {"sign-in", "sign-in-link", "sign-out"}
# Shows the forms of its file and answers none itself.
PAGES_ONLY |= {"overnights"}
# What a hold's one page does, and what an order's form says more than once.
ALSO = {
    *("POST hold-reading", "POST hold-fail", "POST hold-waive"),
    *("POST order-not-sent", "POST order-reorder", "POST build-reopen"),
}

# What stands around every view and asks for the method for reasons of its own.
AROUND = {"fabshop.web.gate", "fabshop.web.respond"}


def test_every_page_that_writes_has_an_address_of_the_api() -> None:
    """Of every file of pages that the table knows; a later noun adds its own rows."""
    views = {str(p.name): inspect.unwrap(p.callback) for p in _patterns()}
    told = {views[name].__module__ for name in PAIRS}
    writing = {n for n, v in views.items() if v.__module__ in told and _writes(v)}
    assert writing - PAGES_ONLY == set(PAIRS)


def test_every_address_of_the_table_takes_the_verb() -> None:
    views = {name: view for _, view, name in api_urls._VIEWS}
    for pair in {*PAIRS.values(), *ALSO}:
        verb, name = pair.split()
        assert hasattr(views[name], verb.lower()), pair


def _patterns() -> list[URLPattern]:
    return [p for p in web_urls.urlpatterns if isinstance(p, URLPattern)]


def _writes(view: Callable[..., Any], seen: frozenset[str] = frozenset()) -> bool:
    """The view answers POST: by its decorator, or where it or its like asks for it."""
    view = inspect.unwrap(view)
    function = ast.parse(textwrap.dedent(inspect.getsource(view)))
    names = {node.id for node in ast.walk(function) if isinstance(node, ast.Name)}
    asks = any(
        isinstance(node, ast.Compare) and ast.unparse(node.left) == "request.method"
        for node in ast.walk(function)
    )
    if "require_safe" in names:
        return False
    beside = vars(inspect.getmodule(view))
    return (
        asks
        or "require_POST" in names
        or any(
            _writes(beside[name], seen | names)
            for name in names - seen
            if inspect.isfunction(beside.get(name))
            and beside[name].__module__.startswith("fabshop.web.")
            and beside[name].__module__ not in AROUND
        )
    )
