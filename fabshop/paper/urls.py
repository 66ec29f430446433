"""Each sheet as a page, and under the same name as PDF."""

from __future__ import annotations

from django.urls import path

from fabshop.paper.frame import FIT, TYPED, tube_template, typed_template
from fabshop.paper.frame_joint import joint_template
from fabshop.paper.joint import traveler
from fabshop.paper.order import receiving_slip
from fabshop.paper.pit import repair_card
from fabshop.paper.plan import teardown_sheet
from fabshop.paper.plan_pull import pull_list, task_pull_list
from fabshop.paper.shelf import bag_labels
from fabshop.paper.shop import wall_sheet
from fabshop.paper.stock import cut_sheet
from fabshop.paper.view import as_page, as_pdf

app_name = "paper"
_SHEETS = (
    ("teardown/<int:pk>", "teardown", teardown_sheet),
    ("pull-list/<int:pk>", "pull-list", pull_list),
    ("pull-list/task/<slug:code>", "pull-list-task", task_pull_list),
    ("bag-labels/<int:pk>", "bag-labels", bag_labels),
    ("receiving/<slug:code>", "receiving", receiving_slip),
    ("wall", "wall", wall_sheet),
    ("traveler/<slug:code>", "traveler", traveler),
    ("cuts/<int:number>", "cuts", cut_sheet),
    ("pit/<slug:slug>", "pit", repair_card),
)
# These read what the printer is told, or the cope itself, out of the address.
_TEMPLATES = (
    ("cope", "cope", typed_template, TYPED),
    ("cope/tube/<slug:code>/<slug:mark>", "cope-tube", tube_template, FIT),
    ("cope/joint/<slug:code>", "cope-joint", joint_template, FIT),
)
urlpatterns = [
    *(path(f"{at}/", as_page(make), name=name) for at, name, make in _SHEETS),
    *(
        path(f"{at}.pdf", as_pdf(make), name=f"{name}-pdf")
        for at, name, make in _SHEETS
    ),
    *(path(f"{at}/", as_page(make, q), name=name) for at, name, make, q in _TEMPLATES),
    *(
        path(f"{at}.pdf", as_pdf(make, q), name=f"{name}-pdf")
        for at, name, make, q in _TEMPLATES
    ),
]
