"""Builds out of a table, and components with what they lie under."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django.utils.text import slugify

from fabshop import words
from fabshop.actions.build import (
    add_build,
    add_component,
    link_twins,
    set_covers,
    set_fastenings,
)
from fabshop.actions.intake.cell import Cells
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.table import Row
from fabshop.records.build import Build, Component

_LOCKERS = {
    "": words.Locker.NONE,
    "n": words.Locker.NONE,
    "m": words.Locker.MEDIUM,
    "h": words.Locker.HIGH,
    "nyl": words.Locker.NYLON_NUT,
}
_FASTENING = re.compile(r"(\d{1,4})\s*[x×*]\s*([^/]+?)\s*(?:/\s*(m|h|nyl|n))?", re.I)


def _add_build(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    name = cells.text("name")
    event_on, pack_out_at = cells.day("event_on"), cells.moment("pack_out_at")
    cells.refuse_if_bad()
    add_build(
        by=taker.by,
        now=taker.now,
        name=name,
        letter=cells.text("letter"),
        slug=cells.text("slug") or slugify(name)[:40],
        class_name=cells.text("class_name"),
        event_name=cells.text("event_name"),
        event_on=event_on,
        pack_out_at=pack_out_at,
    )


def _add_component(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    seen = cells.text("build")
    build = Build.objects.filter(slug__iexact=seen).first() or (
        Build.objects.filter(letter__iexact=seen).first()
    )
    if build is None:
        cells.wrong("build", "is no build here; make it first")
    mass_mg = cells.mass_mg("mass")
    basis = cells.word("mass_basis", words.MassBasis, words.MassBasis.ESTIMATED)
    fields: dict[str, Any] = {
        "state": cells.word("state", words.ComponentState, words.ComponentState.FINAL),
        "side": cells.word("side", words.Side, words.Side.NONE),
        "off_minutes": cells.minutes("off_minutes"),
        "on_minutes": cells.minutes("on_minutes"),
        "held_by": cells.text("held_by"),
        "is_for_good": cells.is_yes("is_for_good"),
        "watch": cells.text("watch"),
        "place": cells.text("place"),
        "mass_mg": mass_mg,
        "mass_basis": basis if mass_mg is not None else "",
    }
    fastenings = _fastenings(cells)
    cells.refuse_if_bad()
    assert build is not None
    component = add_component(
        by=taker.by,
        now=taker.now,
        build=build,
        code=cells.text("code"),
        name=cells.text("name"),
        **fields,
    )
    if fastenings:
        set_fastenings(
            by=taker.by, now=taker.now, component=component, fastenings=fastenings
        )


def _fastenings(cells: Cells) -> list[dict[str, Any]]:
    found = []
    for part in re.split(r"[;+]", cells.text("fastenings")):
        if not part.strip():
            continue
        read = _FASTENING.fullmatch(part.strip())
        if read is None:
            cells.wrong("fastenings", f"“{part.strip()[:40]}” is not like 8×M3×8 BH /m")
            continue
        locker = _LOCKERS[(read[3] or "").lower()]
        found.append({"count": int(read[1]), "size": read[2], "locker": locker})
    return found


def _link_component(taker: Taker, row: Row) -> None:
    """What it lies under (`|` between ways), and its twin."""
    cells = Cells(row)
    component = Component.objects.get(code=cells.text("code"))
    routes = [
        [code for code in re.split(r"[\s,;]+", way) if code]
        for way in cells.text("under").strip("-— ").split("|")
    ]
    if any(routes):
        set_covers(
            by=taker.by,
            now=taker.now,
            component=component,
            routes=[way for way in routes if way],
        )
    seen = cells.text("twin")
    if seen in ("", "-", "—"):
        return
    twin = Component.objects.filter(code=seen).first()
    if twin is None:
        cells.wrong("twin", "is no component here")
        cells.refuse_if_bad()
        return
    component.refresh_from_db()
    if component.twin_id != twin.pk:
        link_twins(by=taker.by, now=taker.now, component=component, twin=twin)


BUILDS = Kind(
    "builds",
    (
        ("name", "Tuppence"),
        ("letter", "what its codes begin with: T"),
        ("slug", "short name; made from the name where empty"),
        ("class_name", ""),
        ("event_name", ""),
        ("event_on", "2027-09-24"),
        ("pack_out_at", "2027-09-22 12:00"),
    ),
    ("name", "letter"),
    "letter",
    _add_build,
)
COMPONENTS = Kind(
    "components",
    (
        ("code", "T10, never used again"),
        ("build", "slug or letter of a build that is here"),
        ("name", "Dash panel"),
        ("state", "missing, stand-in, dry-fit or final (where empty)"),
        ("side", "L or R"),
        ("twin", "code of the other side"),
        ("under", "what must be off first: T08 T09; another way after a |"),
        ("off_minutes", "minutes, empty is unknown"),
        ("on_minutes", "minutes, empty is unknown"),
        ("held_by", "in words"),
        ("fastenings", "8×M3×8 BH /m; 2×M4×12 SH /nyl (/n dry, /h high)"),
        ("is_for_good", "yes where the final one is bonded or welded"),
        ("watch", "witness mark, cable, clips"),
        ("place", "where it lies while off"),
        ("mass", "118, 0,5 kg or 14 oz"),
        ("mass_basis", "est or wgd"),
    ),
    ("code", "build", "name"),
    "code",
    _add_component,
    _link_component,
)
