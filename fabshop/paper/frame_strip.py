"""Draws the strips of a cope template in millimetres, as SVG that PDF keeps exact."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import count
from math import ceil

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from fabshop.reckoning.wrap import FOLD_MM, Strip

# What fits between the margins of either paper, with the caption beside it.
PAGE_MM = 186.0
MOST_HIGH_MM = 205.0
TILE_MM = 168.0
LAP_MM = 8.0
GAP_MM = 10.0
BAR_MM = 50.0

CUT, SKIN, EDGE, HATCH, CLOCK = 0.5, 0.15, 0.25, 0.1, 0.35
_HATCH_STEP = 2.5
_names = count()


@dataclass(frozen=True)
class Fit:
    """How much to stretch across and along the page so that it prints true."""

    across: float = 1.0
    along: float = 1.0

    @property
    def is_plain(self) -> bool:
        return self.across == self.along == 1.0


@dataclass(frozen=True)
class Placed:
    """A strip on the page; `top_mm` is where its upper edge lies."""

    strip: Strip
    top_mm: float

    def y_mm(self, reach_mm: float) -> float:
        """Down the page: the kept side lies below the line of the upper strip."""
        if self.strip.is_upper:
            return self.top_mm + reach_mm - self.strip.waste_edge_mm
        return self.top_mm + self.strip.keep_edge_mm - reach_mm


class _Pen:
    """Collects marks at nominal millimetres, each stretched by the fit."""

    def __init__(self, fit: Fit) -> None:
        self.fit = fit
        self.marks: list[str] = []

    def point(self, x: float, y: float) -> str:
        return f"{x * self.fit.across:.4f} {y * self.fit.along:.4f}"

    def line(
        self,
        points: Iterable[tuple[float, float]],
        width: float,
        more: str = "",
        fill: str = "none",
    ) -> None:
        path = "L".join(self.point(x, y) for x, y in points)
        ink = "none" if fill != "none" else "#000"
        self.marks.append(
            f'<path d="M{path}" fill="{fill}" stroke="{ink}" '
            f'stroke-width="{width}" {more}/>'
        )

    def text(
        self, x: float, y: float, words: str, size: float = 3.2, more: str = ""
    ) -> None:
        across, along = self.point(x, y).split()
        self.marks.append(
            f'<text x="{across}" y="{along}" font-size="{size}" '
            f'text-anchor="middle" {more}>{escape(words)}</text>'
        )


def svg(strips: Sequence[Strip], fit: Fit, tile: int | None = None) -> SafeString:
    """The strips one over the other, the tube's other end on top; or one tile of them.

    One clocking line runs straight through both.
    """
    pen = _Pen(fit)
    placed = placed_on_page(strips)
    for one in placed:
        _strip(pen, one)
    bottom = placed[-1].top_mm + placed[-1].strip.height_mm
    clock = strips[0].template.x_mm(0)
    pen.line([(clock, 0), (clock, bottom)], CLOCK, 'stroke-dasharray="3 1.2"')
    start, width = 0.0, width_mm(strips[0])
    if tile is not None:
        step = TILE_MM / fit.across
        start = tile * step
        width = min(step + LAP_MM, width - start)
        _registration(pen, start, step, bottom, tile)
    return _wrapped(pen, start, width, bottom)


def placed_on_page(strips: Sequence[Strip]) -> list[Placed]:
    """The upper strip first, as it lies on the page."""
    top, placed = 0.0, []
    for strip in sorted(strips, key=lambda s: not s.is_upper):
        placed.append(Placed(strip, top))
        top += strip.height_mm + GAP_MM
    return placed


def width_mm(strip: Strip) -> float:
    return strip.template.wrap_mm + FOLD_MM


def height_mm(strips: Sequence[Strip]) -> float:
    return sum(strip.height_mm for strip in strips) + GAP_MM * (len(strips) - 1)


def tiles_of(strip: Strip, fit: Fit) -> list[int | None]:
    """The tiles to print; [None] where the strip fits the page whole."""
    if width_mm(strip) * fit.across <= PAGE_MM - 2:
        return [None]
    # Stretched or not, a tile and its lap must lie within the page.
    return list(range(ceil(width_mm(strip) * fit.across / TILE_MM)))


def bars_svg(fit: Fit) -> SafeString:
    """Two bars of 50.0 mm, one across the page and one along it."""
    pen = _Pen(fit)
    for across in (True, False):
        ends = (4.0, 4.0 + BAR_MM)
        low = 57.0 if across else 3.0
        bar = [(end, low) if across else (low + 1, end) for end in ends]
        pen.line(bar, 0.4, 'class="bar-across"' if across else 'class="bar-along"')
        for x, y in bar:
            side = 2.0
            pen.line(
                [(x, y - side), (x, y + side)]
                if across
                else [(x - side, y), (x + side, y)],
                0.2,
            )
    pen.text(29, 54, "50.0 mm", 4.2)
    pen.text(14, 30, "50.0 mm", 4.2)
    return _wrapped(pen, 0, 60, 60)


def _strip(pen: _Pen, placed: Placed) -> None:
    strip = placed.strip
    template = strip.template
    wrap, wide = template.wrap_mm, width_mm(strip)
    keep, waste = placed.y_mm(strip.keep_edge_mm), placed.y_mm(strip.waste_edge_mm)
    turns = strip.turns()
    cut = [(template.x_mm(t), placed.y_mm(strip.cut_mm(t))) for t in turns]
    skin = [(template.x_mm(t), placed.y_mm(strip.outer_mm(t))) for t in turns]
    _hatch(pen, [*cut, (wide, waste), (0, waste)], (waste, keep), wide)
    pen.line([(0, keep), (wide, keep), (wide, waste), (0, waste), (0, keep)], EDGE)
    pen.line([(wrap, keep), (wrap, waste)], EDGE, 'stroke-dasharray="1 1"')
    blank = placed.y_mm(strip.shortest_mm)
    pen.line([(0, blank), (wide, blank)], EDGE, 'stroke-dasharray="4 1 0.6 1"')
    pen.line(skin, SKIN, 'class="skin"')
    pen.line(cut, CUT, 'class="cut" stroke-linejoin="round"')
    _scale(pen, placed)
    _words(pen, placed)


def _scale(pen: _Pen, placed: Placed) -> None:
    """Ticks at 0, 90, 180 and 270 of the strip's own scale; arrow and twist mark."""
    strip = placed.strip
    template = strip.template
    keep = placed.y_mm(strip.keep_edge_mm)
    inward = -1.0 if strip.is_upper else 1.0  # from the keep edge, down the page
    size = min(3.2, template.wrap_mm / 8)
    for at in (0, 90, 180, 270):
        x = template.x_mm(strip.turn_deg(at))
        # Near the left edge there is more room where the fold shows the same place.
        places = [x, x + template.wrap_mm] if x < FOLD_MM else [x]
        for place in places:
            pen.line([(place, keep), (place, keep + inward * 2.5)], EDGE)
        label = places[-1] if x < size else x
        row = keep + (5.4 if inward > 0 else -3.1)
        pen.text(label, row, str(at), size, 'font-weight="700"')
    zero = template.x_mm(strip.turn_deg(0))
    tail = placed.y_mm(strip.cut_mm(strip.turn_deg(0)) + 0.6)
    head = tail - inward * 4.2
    pen.line([(zero, tail), (zero, head)], 0.4)
    wings = head + inward * 2
    pen.line([(zero, head), (zero - 1.1, wings), (zero + 1.1, wings)], 0, fill="#000")
    if len(template.ends) == 2:
        x = template.x_mm(strip.turn_deg(template.twist_deg))
        point = keep + inward * 2.4
        pen.line([(x, point), (x - 1.3, keep), (x + 1.3, keep)], 0, fill="#000")


def _words(pen: _Pen, placed: Placed) -> None:
    """Which side is kept, and along the fold what the strip is, once it is cut out."""
    strip = placed.strip
    template, end = strip.template, strip.end
    size = min(3.2, template.wrap_mm / 9)
    half = size * 1.4
    # On the obtuse side, where the most of the kept tube shows.
    beside = template.x_mm(strip.turn_deg(225))
    x = min(max(beside, half), template.wrap_mm - half)
    keep = placed.y_mm(strip.keep_edge_mm)
    row = keep - 7.4 if strip.is_upper else keep + 9.8
    pen.text(x, row, "KEEP", size, 'font-weight="700"')
    waste = placed.y_mm(strip.waste_edge_mm)
    pen.text(x, waste + (3.4 if strip.is_upper else -1.2), "waste", size)
    named = " ".join(name for name in (end.joint, end.node) if name)
    told = f"{named} {end.angle_deg:.1f}° dial {end.dial_deg:.1f}° on {end.onto_mm:g}"
    size = min(3.0, strip.height_mm / (0.56 * len(told)))
    middle = placed.top_mm + strip.height_mm / 2
    x = template.wrap_mm + FOLD_MM - 1.2
    turned = pen.point(x, middle)
    pen.text(x, middle, told.strip(), size, f'transform="rotate(-90 {turned})"')


def _hatch(
    pen: _Pen,
    region: Sequence[tuple[float, float]],
    between: tuple[float, float],
    wide: float,
) -> None:
    """Light slanting lines over the waste, clipped to it."""
    name = f"waste-{next(_names)}"
    path = "L".join(pen.point(x, y) for x, y in region)
    pen.marks.append(f'<clipPath id="{name}"><path d="M{path}Z"/></clipPath>')
    low, high = min(between), max(between)
    pen.marks.append(f'<g clip-path="url(#{name})">')
    x = -(high - low)
    while x < wide:
        pen.line([(x, high), (x + high - low, low)], HATCH)
        x += _HATCH_STEP
    pen.marks.append("</g>")


def _registration(
    pen: _Pen, start: float, step: float, bottom: float, tile: int
) -> None:
    """Crosses on the lines where one tile is laid on the next."""
    for number, x in ((tile, start), (tile + 1, start + step)):
        if number == 0:
            continue
        for y in (6.0, bottom - 6.0):
            pen.line([(x - 4, y), (x + 4, y)], EDGE)
            pen.line([(x, y - 4), (x, y + 4)], EDGE)
            pen.text(x + 3, y - 1.2, chr(64 + number), 4.2, 'font-weight="700"')


def _wrapped(pen: _Pen, start: float, width: float, height: float) -> SafeString:
    """The marks in an SVG whose user unit is a millimetre of the page.

    A border of half a millimetre keeps the outline whole.
    """
    x, wide = start * pen.fit.across, width * pen.fit.across
    high = height * pen.fit.along
    box = f"{x - 0.5:.4f} -0.5 {wide + 1:.4f} {high + 1:.4f}"
    inner = "".join(pen.marks)
    return mark_safe(  # only figures of ours and escaped words are in it
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide + 1:.4f}mm" '
        f'height="{high + 1:.4f}mm" viewBox="{box}" font-family="Sheet, Roboto, '
        f'Arial, sans-serif">{inner}</svg>'
    )
