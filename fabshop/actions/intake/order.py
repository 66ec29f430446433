"""Suppliers out of a table, and orders: one row a line, rows of one code together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fabshop import words
from fabshop.actions.intake.cell import BadRow, Cells
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.table import BadCell, Row
from fabshop.actions.order import add_order, add_supplier, mark_sent, promise
from fabshop.records.build import Build, Component
from fabshop.records.order import Supplier


def _add_supplier(taker: Taker, rows: Sequence[Row]) -> None:
    row = rows[0]
    add_supplier(
        by=taker.by,
        now=taker.now,
        name=row["name"],
        code=row["code"] or None,
        contact=row["contact"],
        note=row["note"],
    )


def _add_order(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    fields = _fields(cells)
    sent_on, eta_on = cells.day("sent_on"), cells.day("eta_on")
    latest_on = cells.day("latest_on")
    bad: list[BadCell] = list(cells.bad)
    lines = []
    for row in rows:
        line = Cells(row)
        lines.append(_line(line, fields["title"]))
        bad += line.bad
    if bad:
        raise BadRow(*bad)
    order = add_order(
        by=taker.by, now=taker.now, code=cells.text("code"), lines=lines, **fields
    )
    if sent_on:
        mark_sent(
            by=taker.by,
            now=taker.now,
            order=order,
            on=sent_on,
            revision=order.file_revision or None,
        )
        order.refresh_from_db()
    if eta_on or cells.text("said"):
        promise(
            by=taker.by,
            now=taker.now,
            order=order,
            eta_on=eta_on,
            latest_on=latest_on,
            said=cells.text("said"),
        )


def _fields(cells: Cells) -> dict[str, Any]:
    seen = cells.text("supplier")
    supplier = Supplier.objects.filter(name__iexact=seen).first() or (
        Supplier.objects.filter(code__iexact=seen).first()
    )
    if supplier is None:
        cells.wrong("supplier", "is no supplier here; take the suppliers in first")
    build = None
    if slug := cells.text("build"):
        build = Build.objects.filter(slug__iexact=slug).first() or (
            Build.objects.filter(letter__iexact=slug).first()
        )
        if build is None:
            cells.wrong("build", "is no build here; it may stay empty")
    return {
        "supplier": supplier,
        "build": build,
        "title": cells.text("title"),
        "kind": cells.word("kind", words.OrderKind, words.OrderKind.BOUGHT),
        "lead_early_days": cells.whole("lead_early_days"),
        "lead_likely_days": cells.whole("lead_likely_days"),
        "lead_late_days": cells.whole("lead_late_days"),
        "file_name": cells.text("file_name"),
        "file_revision": cells.text("file_revision"),
        "note": cells.text("note"),
    }


def _line(cells: Cells, title: str) -> dict[str, Any]:
    component = None
    if seen := cells.text("component"):
        component = Component.objects.filter(code=seen).first()
        if component is None:
            cells.wrong("component", "is no component here; it may stay empty")
    quantity = cells.milli("quantity") if cells.text("quantity") else 1000
    return {
        "title": cells.text("line") or title,
        "quantity_milli": quantity or 0,
        "unit": cells.word("unit", words.Unit, words.Unit.PIECE),
        "hand": cells.word("hand", words.Hand, words.Hand.NONE),
        "component": component,
    }


SUPPLIERS = Kind(
    "suppliers",
    (
        ("name", "Nib & Burr Cutting"),
        ("code", "made from the name where empty"),
        ("contact", "mail, telephone, address"),
        ("note", ""),
    ),
    ("name",),
    "name",
    _add_supplier,
)
ORDERS = Kind(
    "orders",
    (
        ("code", "P26; a second row of it is its second line"),
        ("supplier", "name or code of one that is here"),
        ("title", "Air ducts L+R"),
        ("kind", "bought, cut, service, commission or loan"),
        ("build", "slug or letter; may stay empty"),
        ("line", "what this line is; the title where empty"),
        ("quantity", "14 or 0,4; one where empty"),
        ("unit", "pc, m, m2, g or ml"),
        ("hand", "L or R"),
        ("component", "code of what it is for"),
        ("lead_early_days", "6"),
        ("lead_likely_days", "8"),
        ("lead_late_days", "11"),
        ("sent_on", "2027-08-30; empty is not sent"),
        ("eta_on", "2027-09-08"),
        ("latest_on", "2027-09-13"),
        ("said", "their words where they give no day"),
        ("file_name", ""),
        ("file_revision", ""),
        ("note", ""),
    ),
    ("code", "supplier", "title"),
    "code",
    _add_order,
    may_repeat=True,
)
