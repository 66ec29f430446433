"""Cope templates at 1:1: both ends of a tube on one sheet, wrapped print side out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop.clock import now
from fabshop.errors import BadInput, NotFound
from fabshop.paper.frame_strip import (
    MOST_HIGH_MM,
    Fit,
    bars_svg,
    height_mm,
    svg,
    tiles_of,
)
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.frame import TubeReckoned, reckon_frame
from fabshop.reckoning.frame.angle import feather_warning
from fabshop.reckoning.frame.landing import FEATHER_DEG
from fabshop.reckoning.frame.typed import cope_typed, length_read
from fabshop.reckoning.wrap import CopeEnd, Strip, Template, corrected, strips
from fabshop.records.build import Build
from fabshop.records.frame import Frame, PrintFit
from fabshop.snapshot import plan_clock
from fabshop.snapshot.frame import frame_facts

# What the printer is told of itself, in the address of any template.
FIT = ("thick", "across", "along")
TYPED = (
    *("od", "wall", "onto", "angle", "offset", "reads"),
    *("onto2", "angle2", "offset2", "twist", *FIT),
)


@dataclass(frozen=True)
class Named:
    """What a template is called and where its QR leads."""

    title: str
    subject: str
    path: str
    code: str
    filename: str


def typed_template(**typed: str) -> Sheet:
    """A template without any frame, from what was typed in its address."""
    read = cope_typed(typed)
    od = f"{read.template.od_mm:g}"
    named = Named("Cope template", f"Cope of {od}", "/cope/", "COPE", f"cope-{od}")
    return cope_sheet(read.template, named, typed, notes=read.notes)


def tube_template(code: str, mark: str, **typed: str) -> Sheet:
    """Both ends of one tube of a frame, as the frame reckons them."""
    frame = get_object_or_404(Frame.objects.select_related("build"), code=code)
    facts = frame_facts(frame)
    if mark not in facts.tube_by_mark:
        raise NotFound(f"There is no tube {mark[:40]} in {frame}.")
    tube = reckon_frame(facts).tube(mark)
    template = template_of(tube)
    if template is None:
        said = " ".join(tube.said) or f"{mark} is cut square at both ends."
        raise BadInput(f"No template for {mark}: {said}")
    named = Named(
        f"Cope template of {mark}",
        frame.build.name,
        f"/frames/{code}/tubes/{mark}/",
        f"TUBE {mark}",
        f"cope-{code}-{mark}",
    )
    return cope_sheet(template, named, typed, notes=tube.said, length_mm=tube.cut_mm)


def copes_of_frames(build: Build, fit: Fit, paper_mm: float) -> list[dict[str, Any]]:
    """The template of every coped tube of a build's frames, as parts of one sheet."""
    parts = []
    for frame in build.frames.all():
        for tube in reckon_frame(frame_facts(frame)).tubes:
            template = template_of(tube, paper_mm)
            if template is not None:
                title = f"Cope template of {tube.fact.mark}"
                parts.append(part(title, template, fit, tube.said, tube.cut_mm))
    return parts


def template_of(tube: TubeReckoned, paper_mm: float | None = None) -> Template | None:
    """The coped ends of a reckoned tube as a template; None where it has none."""
    ends = [
        (number, end) for number, end in enumerate(tube.ends) if end.cope and end.landed
    ]
    if not ends:
        return None
    made = tuple(
        CopeEnd(
            end.main_mm,
            end.landed.angle_deg,
            end.landed.offset_mm,
            end.fact.onto,
            end.fact.joint,
            end.node,
        )
        for _, end in ends
        if end.landed
    )
    known = {} if paper_mm is None else {"paper_mm": paper_mm}
    fact = tube.fact
    return Template(fact.od_mm, fact.wall_mm, made, tube.twist_deg or 0.0, **known)


def cope_sheet(
    template: Template,
    named: Named,
    typed: dict[str, str],
    *,
    notes: Sequence[str] = (),
    length_mm: float | None = None,
) -> Sheet:
    fit, paper = print_fit(typed)
    template = Template(
        template.od_mm, template.wall_mm, template.ends, template.twist_deg, paper
    )
    made = part(named.title, template, fit, notes, length_mm)
    return sheet_of([made], named, fit, named.filename)


def sheet_of(
    parts: list[dict[str, Any]], named: Named, fit: Fit, filename: str
) -> Sheet:
    moment = now()
    return Sheet(
        name="cope",
        title=named.title,
        template="paper/frame/cope.html",
        path=named.path,
        code=named.code,
        filename=filename,
        subject=named.subject,
        made_at=moment,
        offset_minutes=plan_clock(moment).offset_minutes,
        entries=entries_so_far(),
        context={"parts": parts, "fit": fit},
    )


def part(
    title: str,
    template: Template,
    fit: Fit,
    notes: Sequence[str],
    length_mm: float | None,
) -> dict[str, Any]:
    """One tube's template, as its page shows it."""
    made = strips(template)
    said = list(notes)
    for end in template.ends:
        if end.angle_deg < FEATHER_DEG and not any("feather" in note for note in said):
            said.append(feather_warning(end.angle_deg))
    return {
        "title": title,
        "section": f"{template.od_mm:g} × {template.wall_mm:g}",
        "ends": [_end(strip, number) for number, strip in enumerate(made)],
        "is_both": len(made) == 2,
        "twist": _signed(template.twist_deg),
        "wrap": f"{template.wrap_mm:.1f}",
        "paper": f"{template.paper_mm:.2f}",
        "length": "" if length_mm is None else f"{length_mm:.1f}",
        "notes": said,
        "fit": ""
        if fit.is_plain
        else f"{fit.across:.4f} across, {fit.along:.4f} along",
        "bars": bars_svg(fit),
        "drawings": _drawings(made, fit),
    }


def _end(strip: Strip, number: int) -> dict[str, str]:
    end = strip.end
    return {
        "name": end.node or ("other end" if number else "this end"),
        "place": "upper strip" if strip.is_upper else "lower strip",
        "onto": f"{end.onto_mm:g}",
        "mate": end.mate,
        "joint": end.joint,
        "angle": f"{end.angle_deg:.1f}",
        "dial": f"{end.dial_deg:.1f}",
        "offset": f"{_signed(end.offset_mm, 2)} mm" if end.offset_mm else "0",
        "depth": f"{strip.longest_mm - strip.shortest_mm:.1f}",
    }


def _signed(value: float, places: int = 1) -> str:
    shown = f"{value:+.{places}f}".replace("-", "−")
    return "0" if float(f"{value:.{places}f}") == 0 else shown


def _drawings(made: Sequence[Strip], fit: Fit) -> list[dict[str, Any]]:
    """Both strips together where they fit the page, else one after the other."""
    for strip in made:
        if strip.height_mm * fit.along > MOST_HIGH_MM:
            raise BadInput(
                f"The template is {strip.height_mm * fit.along:.0f} mm high, more than "
                f"the {MOST_HIGH_MM:.0f} mm of a page. At {strip.end.angle_deg:.1f}° "
                "cut this one on the machine, set by its dial.",
                code="too-large",
            )
    groups = [list(made)]
    if height_mm(made) * fit.along > MOST_HIGH_MM:
        groups = [[strip] for strip in made]
    return [
        {"svg": svg(group, fit, tile), "tile": "" if tile is None else tile + 1}
        for group in groups
        for tile in tiles_of(group[0], fit)
    ]


def print_fit(typed: dict[str, str]) -> tuple[Fit, float]:
    """How to print, from the last bar that was measured and those in the address."""
    known = PrintFit.objects.first()
    fit = Fit()
    paper = 0.1
    if known is not None:
        fit = Fit(known.across_ppm / 1e6, known.along_ppm / 1e6)
        paper = known.paper_um / 1000
    stretched = {}
    for name, before in (("across", fit.across), ("along", fit.along)):
        text = typed.get(name, "")
        if not text.strip():
            stretched[name] = before
            continue
        label = f"Bar measured {name} the page"
        measured = length_read(text, field=name, label=label)
        if not 42 <= measured <= 60:
            raise BadInput(
                f"{label}: {measured:g} mm is not 42 to 60 mm. Measure the bar that "
                "says 50.0 mm.",
                field=name,
            )
        stretched[name] = corrected(measured, before)
    if typed.get("thick", "").strip():
        paper = length_read(typed["thick"], field="thick", label="Paper thickness")
        if not 0 <= paper <= 1:
            raise BadInput(
                f"Paper thickness: {paper:g} mm is not 0 to 1 mm.", field="thick"
            )
    return Fit(**stretched), paper
