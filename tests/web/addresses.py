"""Every page of the web face and every sheet, with examples from the demo shop."""

from __future__ import annotations

from typing import Any

from django.urls import URLPattern

from fabshop.actions.stock.cut_list import rack_for
from fabshop.reckoning.blank_groups import blank_groups, laid_out
from fabshop.reckoning.cut_groups import groups, told
from fabshop.reckoning.facts import PieceFact, WishFact
from fabshop.records.frame import Frame
from fabshop.records.log import LogEntry
from fabshop.records.order import Receipt
from fabshop.records.overnight import Run
from fabshop.records.plan import Plan
from fabshop.records.shop import Person, Window
from fabshop.records.stock import CutWish, Piece
from fabshop.records.task import Task
from fabshop.snapshot.stock import open_wishes, piece_facts
from fabshop.web import urls
from fabshop.words import PieceForm
from tests.factories import (
    CutListFactory,
    CutMarkFactory,
    DraftFactory,
    IdeaFactory,
    RunFactory,
)
from tests.paper.a_frame import a_frame

# What only answers a tap, and what shows nothing of the demo shop to its owner.
NO_PAGE = {
    *("task-start", "task-stop", "task-done", "task-part-done", "task-stuck"),
    *("log-undo", "log-photo", "photo", "go", "build-close"),
    *("component-off", "component-on", "component-swap", "component-retire"),
    *("task-give-up", "task-reopen", "task-plan-b", "receipt-take-back"),
    *(
        "line-settle",
        "order-shut",
        "plan-accept",
        "plan-add",
        "plan-tick",
        "plan-step-photo",
    ),
    *("joint-step", "joint-state", "joint-colour", "joint-accept", "joint-reject"),
    *("joint-strip",),
    *("order-event", "check-decide", "drawing-file"),
    *("worker", "offline", "component-broke", "run-start", "idea-wipe"),
    *("node-remove", "tube-mirror", "tube-remove", "cope-fit", "frame-wish"),
    *("shelf-move", "shelf-open", "shelf-gone", "task-overrule"),
    *("draft-drop", "sign-out", "person-link", "person-retire", "person-back"),
    *("piece-hold", "piece-let-go", "piece-change", "piece-retire"),
    *("cut-list-ask", "wish-give-up", "schedule-ask", "goal-choose"),
    *("hours-remove", "setup", "sign-in-link", "sign-in"),
}


def a_run() -> Run:
    """W50 on its machine since half an hour ago."""
    task = Task.objects.get(code="W50")
    owner = Person.objects.filter(role="owner").earliest("pk")
    return RunFactory(
        task=task, machine=task.stages.get(kind="run").machine, person=owner
    )


def examples() -> dict[str, Any]:
    """What stands for each part of an address, in the demo shop."""
    plan = Plan.objects.get()
    hold = Task.objects.get(code="W23")
    entry = LogEntry.objects.filter(task__isnull=False).first()
    assert entry is not None
    person = Person.objects.filter(role="owner").earliest("pk")
    return {
        "slug:slug": "tuppence",
        "slug:noun": "tasks",
        "slug:node": "A",
        "slug:mark": "brace",
        "str:client_id": entry.client_id,
        "int:number": 1,
        "task": hold.code,
        "frame": frame_code(),
        "component": "T13",
        "shelf": "C01",
        "piece": "M10",
        "cut": "M16",
        "joint": "J17",
        "slug:metal": "titanium",
        "str:mark": CutMarkFactory(
            cut_list=CutListFactory(number=1, answer=cut_list_answer()),
            piece=Piece.objects.get(code="M10"),
            wish=CutWish.objects.get(code="L07"),
            mark="L07a",
        ).mark,
        "order": "P05",
        "plan": plan.pk,
        "draft": DraftFactory(person=person).pk,
        "run": a_run().pk,
        "idea": IdeaFactory(person=person).pk,
        "receipt": Receipt.objects.first().pk,  # type: ignore[union-attr]
        "hours": Window.objects.first().pk,  # type: ignore[union-attr]
        "person": person.pk,
    }


def frame_code() -> str:
    """A small frame; the demo shop has its joints without one."""
    known = Frame.objects.filter(code="cradle").first()
    return known.code if known else a_frame()


def cut_list_answer() -> dict[str, Any]:
    """A kept answer as `ask_cut_list` keeps it, without running the solver."""
    wishes, pieces = open_wishes(), rack_for(open_wishes())
    (group,) = (g for g in groups(pieces, wishes) if g.section == "8 × 1")
    answer = {
        "status": "optimal",
        "bars": [{"stock": "M10", "pieces": ["L07"], "left": 25.8, "fate": "drop"}],
        "short": [{"piece": "L06", "count": 2, "why": "no stock is that long"}],
        "totals": {},
    }
    return {
        "groups": [told(group, answer, kerf_um=1200, dressing_um=1000)],
        "sheet_groups": [_sheet_answer(pieces_of("5754"))],
    }


def pieces_of(material: str) -> tuple[PieceFact, ...]:
    return piece_facts(Piece.objects.filter(material__code=material))


def _sheet_answer(pieces: tuple[PieceFact, ...]) -> dict[str, Any]:
    wish = WishFact(
        "L90", "plate", "5754", PieceForm.SHEET, 90_000, 1, wide_um=140_000, section="2"
    )
    (group,) = blank_groups(pieces, [wish])
    at = {"blank": "L90", "x": 0.0, "y": 0.0, "length": 90.0, "width": 140.0}
    sheet = {
        "sheet": "M16",
        "length": 400.0,
        "width": 300.0,
        "blanks": [at | {"turned": False}],
        "drop": {"length": 308.8, "width": 300.0},
        "yield": 0.1,
    }
    totals = {"opened": 1, "fewest": 1}
    answer = {"status": "optimal", "sheets": [sheet], "short": [], "totals": totals}
    return laid_out(group, answer, kerf_um=1200)


def addresses() -> list[str]:
    """Every page of the web face, with an example where it names something."""
    known = examples()
    found = []
    for pattern in urls.urlpatterns:
        assert isinstance(pattern, URLPattern)
        name, route = str(pattern.name), str(pattern.pattern)
        if name in NO_PAGE:
            continue
        # What stands in the plan of the shop is a task.
        of_plan = route.startswith("plan/")
        noun = "task" if of_plan else route.split("/")[0].rstrip("s")
        for part, value in known.items():
            if ":" in part:
                route = route.replace(f"<{part}>", str(value))
        for kind in ("slug:code", "str:code", "int:pk"):
            if f"<{kind}>" in route:
                route = route.replace(f"<{kind}>", str(known[noun]))
        assert "<" not in route, f"give {name} an example: {route}"
        found.append(f"/{route}")
    plan = known["plan"]
    return [
        *found,
        *(f"/paper/teardown/{plan}/", f"/paper/pull-list/{plan}/"),
        f"/paper/bag-labels/{plan}/",
        "/cope/?od=8&wall=0.9&onto=8&angle=62.5&onto2=8&angle2=48&twist=14",
        "/paper/cope/?od=8&wall=0.9&onto=8&angle=62.5",
        "/paper/cope/tube/cradle/brace/",
        *(
            "/paper/receiving/P05/",
            "/orders/P02/lines/2/drawing/",
            "/orders/P03/lines/1/drawing/",
            "/orders/P01/lines/1/checks/",
            "/paper/wall/",
            "/paper/pit/tuppence/",
            "/paper/cuts/1/",
            "/paper/traveler/W43/",
            "/tasks/W43/joints/",
            "/joints/J08/",
        ),
    ]
