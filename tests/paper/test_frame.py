"""Cope templates measured on the paper itself: bars, curves, and which way round."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest
from django.http import Http404
from django.test import Client

from fabshop.errors import BadInput, NotFound
from fabshop.paper.frame import tube_template, typed_template
from fabshop.records.shop import Person, Shop
from tests.factories import PrintFitFactory
from tests.paper.a_frame import a_frame
from tests.paper.drawn import Line, lines_of
from tests.paper.pdf import sizes_mm, texts
from tests.paper.test_plan import BASE, said

pytestmark = pytest.mark.django_db
PAPERS = [("a4", (210, 297)), ("letter", (216, 279))]
# An A-post: 62.5 at the foot, 48.0 at the head, the head's cope turned by 14.
POST = {
    "od": "8",
    "wall": "0.9",
    "onto": "8",
    "angle": "62.5",
    "onto2": "8",
    "angle2": "48",
    "twist": "14",
}


def near(a: float, b: float, slack: float = 0.01) -> bool:
    return abs(a - b) < slack


def curves(lines: list[Line], width: float) -> list[Line]:
    return [li for li in lines if len(li.points) > 300 and near(li.width_mm, width)]


def clock_of(lines: list[Line]) -> float:
    """Where the clocking line stands: the only upright one of its width."""
    (line,) = (li for li in lines if near(li.width_mm, 0.35))
    assert line.points[0][0] == pytest.approx(line.points[1][0])
    return line.points[0][0]


def blank_ends(lines: list[Line]) -> list[float]:
    """Heights of the square ends of the blank, one in each strip, head first."""
    level = [
        li.points[0][1]
        for li in lines
        if len(li.points) == 2
        and near(li.width_mm, 0.25)
        and li.length_mm > 20
        and near(li.points[0][1], li.points[1][1])
    ]
    return sorted(level, reverse=True)


@pytest.mark.parametrize(("paper", "size"), PAPERS)
def test_the_check_bars_measure_50_mm_both_ways(
    paper: str, size: tuple[int, int]
) -> None:
    made = typed_template(**POST).pdf(base_url=BASE, paper=paper)
    assert set(sizes_mm(made)) == {size}
    bars = [li for li in lines_of(made)[0] if near(li.width_mm, 0.4, 0.001)]
    bars = [bar for bar in bars if bar.length_mm > 40]
    assert [bar.length_mm for bar in bars] == pytest.approx([50, 50], abs=0.05)
    (x0, y0), (x1, y1) = bars[0].points
    assert near(y0, y1)
    (x0, y0), (x1, y1) = bars[1].points
    assert near(x0, x1)


def ordinate(at_deg: float, r: float, big: float, angle: float, e: float) -> float:
    """Where a thread of one cylinder leaves another: the classical intersection."""
    at, a = radians(at_deg), radians(angle)
    return (sqrt(big**2 - (e + r * sin(at)) ** 2) + r * cos(at) * cos(a)) / sin(a)


@pytest.mark.parametrize(("paper", "size"), PAPERS)
@pytest.mark.parametrize(
    ("typed", "ends"),
    [
        (POST, [(4, 62.5, 0), (4, 48, 0)]),
        (
            {
                "od": "38.1",
                "wall": "2",
                "onto": "44.5",
                "angle": "41.2",
                "offset": "1.5",
                "onto2": "50",
                "angle2": "78.4",
                "offset2": "-2.5",
                "twist": "-22",
            },
            [(22.25, 41.2, 1.5), (25, 78.4, -2.5)],
        ),
    ],
)
def test_the_printed_lines_follow_the_formula(
    paper: str,
    size: tuple[int, int],
    typed: dict[str, str],
    ends: list[tuple[float, float, float]],
) -> None:
    made = typed_template(**typed).pdf(base_url=BASE, paper=paper)
    lines = next(page for page in lines_of(made) if curves(page, 0.5))
    clock, (head, foot) = clock_of(lines), blank_ends(lines)
    r, wall = float(typed["od"]) / 2, float(typed["wall"])
    wrap, twist = pi * (2 * r + 0.1), float(typed["twist"])
    skins, cuts = curves(lines, 0.15), curves(lines, 0.5)
    assert len(skins) == len(cuts) == 2
    for skin, cut, blank, up, (big, angle, offset) in (
        (skins[1], cuts[1], foot, 1, ends[0]),
        (skins[0], cuts[0], head, -1, ends[1]),
    ):
        least = min(ordinate(a / 4, r, big, angle, offset) for a in range(1440))
        for (x, y), (_, y_cut) in zip(skin.points, cut.points, strict=True):
            turn = (x - clock) / wrap * 360
            at = turn if up > 0 else twist - turn
            outer = ordinate(at, r, big, angle, offset)
            inner = ordinate(at, r - wall, big, angle, offset)
            assert (y - blank) * up + least == pytest.approx(outer, abs=0.05)
            assert (y_cut - blank) * up + least == pytest.approx(
                max(outer, inner), abs=0.05
            )


def test_wrapped_print_side_out_the_printed_line_lies_on_the_main_tube() -> None:
    """Paper to space: which way round it is cannot be seen from the formula alone."""
    typed = {**POST, "onto": "12", "offset": "1.2", "onto2": "12", "offset2": "-0.8"}
    made = typed_template(**typed).pdf(base_url=BASE, paper="a4")
    lines = next(page for page in lines_of(made) if curves(page, 0.5))
    clock, (head, foot) = clock_of(lines), blank_ends(lines)
    wrap, length = pi * 8.1, 140.0
    upper, lower = curves(lines, 0.15)
    a, b, t = radians(62.5), radians(48), radians(14)
    # The tube stands on z with its foot at the origin and its acute line on +x.
    # As seen from above, counterclockwise is from x to y; an offset is towards y.
    main, through = np.array([sin(a), 0, cos(a)]), np.array([0, -1.2, 0])
    acute, down = np.array([cos(t), sin(t), 0]), np.array([0, 0, -1.0])
    other = sin(b) * acute + cos(b) * down
    other_through = np.array([0, 0, length]) + 0.8 * np.cross(down, acute)
    least = min(ordinate(x / 4, 4, 6, 62.5, 1.2) for x in range(1440))
    least_up = min(ordinate(x / 4, 4, 6, 48, -0.8) for x in range(1440))
    for line, blank, base, axis, at in (
        (lower, foot, least, main, through),
        (upper, head, length - least_up, other, other_through),
    ):
        for x, y in line.points:
            # Wrapped print side out: right on the page, up on the page and outward
            # are right-handed, so right goes counterclockwise as seen from above.
            turn = 2 * pi * (x - clock) / wrap
            point = np.array([4 * cos(turn), 4 * sin(turn), base + y - blank])
            off = np.linalg.norm(np.cross(point - at, axis))
            assert off == pytest.approx(6, abs=0.05)


def test_everything_that_the_sheet_must_say() -> None:
    html = said(typed_template(**POST).html(base_url=BASE))
    for words in (
        "Tube 8 × 0.9, twist +14.0°.",
        "Print at 100 %. Both bars must measure 50.0 mm.",
        "62.5° 27.5°",
        "48.0° 42.0°",
        "Once round the tube must measure 25.4 mm on the paper (paper 0.10 mm thick).",
        "print side out",
        "counterclockwise",
        "The hatched side is waste.",
        "KEEP",
    ):
        assert words in html, words
    for tick in ("0", "90", "180", "270"):
        assert html.count(f" {tick} ") >= 2


def test_a_feather_edge_is_warned_of_on_the_sheet() -> None:
    html = said(typed_template(**{**POST, "angle": "18"}).html(base_url=BASE))
    assert "18.0° is below 20°: the acute side runs out into a feather edge" in html


def test_row_60_a_bar_that_measured_short_stretches_the_whole_sheet() -> None:
    typed = {**POST, "across": "48.5", "along": "49.5"}
    made = typed_template(**typed).pdf(base_url=BASE, paper="a4")
    pages = lines_of(made)
    bars = [
        li for li in pages[0] if near(li.width_mm, 0.4, 0.001) and li.length_mm > 40
    ]
    # On the printer that made 48.5 of 50 they come out at 50.0 again.
    assert bars[0].length_mm * 48.5 / 50 == pytest.approx(50, abs=0.01)
    assert bars[1].length_mm * 49.5 / 50 == pytest.approx(50, abs=0.01)
    cut = next(curves(page, 0.5) for page in pages if curves(page, 0.5))[0]
    wide = max(x for x, _ in cut.points) - min(x for x, _ in cut.points)
    assert wide == pytest.approx((pi * 8.1 + 8) * 50 / 48.5, abs=0.01)
    html = said(typed_template(**typed).html(base_url=BASE))
    assert "printed with correction 1.0309 across, 1.0101 along" in html


def test_the_shop_s_last_measured_fit_holds_until_another() -> None:
    PrintFitFactory(across_ppm=1_020_000, along_ppm=1_010_000, paper_um=120)
    html = said(typed_template(**POST).html(base_url=BASE))
    assert "printed with correction 1.0200 across, 1.0100 along" in html
    assert "(paper 0.12 mm thick)" in html
    again = said(typed_template(**POST, across="50.5").html(base_url=BASE))
    assert "correction 1.0099 across, 1.0100 along" in again


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"across": "97"}, "97 mm is not 42 to 60 mm. Measure the bar that says 50.0"),
        ({"along": "wide"}, "“wide” is not a length"),
        ({"thick": "2"}, "Paper thickness: 2 mm is not 0 to 1 mm."),
        ({"onto": "6"}, "wraps past the mate"),
        (
            {"od": "60", "onto": "200", "angle": "12", "onto2": "60"},
            "mm high, more than",
        ),
    ],
)
def test_what_cannot_be_printed_is_refused_in_words(
    typed: dict[str, str], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence.replace("(", r"\(")):
        typed_template(**{**POST, **typed})


def test_row_40_a_wide_tube_is_tiled_with_crosses_that_meet() -> None:
    typed = {"od": "76", "wall": "2", "onto": "90", "angle": "50"}
    made = typed_template(**typed).pdf(base_url=BASE, paper="letter")
    pages = [page for page in lines_of(made) if curves(page, 0.5)]
    assert len(pages) == 2
    words = " ".join(texts(made))
    assert "Tile 1: lay the crosses of one letter on each other." in words
    first, second = pages
    a, b = (curves(page, 0.5)[0].points for page in pages)
    # A cross on the first tile, laid on its fellow, brings the line onto itself.
    crosses = [
        {
            (round((li.points[0][0] + li.points[1][0]) / 2, 2), li.points[0][1])
            for li in page
            if near(li.length_mm, 8)
            and near(li.width_mm, 0.25)
            and near(li.points[0][1], li.points[1][1])
        }
        for page in (first, second)
    ]
    right = max(crosses[0])
    left = min(crosses[1], key=lambda at: (at[0], abs(at[1] - right[1])))
    low = [min(y for _, y in side) for side in (crosses[0], crosses[1])]
    shift = (left[0] - right[0], low[1] - low[0])
    for (x0, y0), (x1, y1) in zip(a, b, strict=True):
        assert (x0 + shift[0], y0 + shift[1]) == pytest.approx((x1, y1), abs=0.02)


def test_a_tube_of_a_frame_has_both_ends_on_one_sheet(shop: Shop) -> None:
    code = a_frame()
    sheet = tube_template(code, "brace")
    html = said(sheet.html(base_url=BASE))
    assert "Cope template of brace" in html
    assert "long point to long point" in html
    assert "F J02 upper strip" in html
    assert "31.0° 59.0°" in html
    assert "59.0° 31.0°" in html
    assert f"{BASE}/frames/cradle/tubes/brace/" in html
    assert "TUBE brace" in html
    made = sheet.pdf(base_url=BASE, paper="a4")
    assert sum(len(curves(page, 0.5)) for page in lines_of(made)) == 2


def test_a_tube_without_a_cope_has_no_template_and_says_why(shop: Shop) -> None:
    code = a_frame()
    with pytest.raises(BadInput, match="rail is cut square at both ends"):
        tube_template(code, "rail")
    with pytest.raises(NotFound, match="There is no tube mast in cradle"):
        tube_template(code, "mast")
    with pytest.raises(Http404):
        tube_template("nothing", "rail")


def test_the_addresses_of_templates(client: Client, owner: Person) -> None:
    client.force_login(owner)
    page = client.get("/paper/cope/", POST)
    assert page.status_code == 200
    assert "62.5°" in page.text
    refused = client.get("/paper/cope/", {"od": "8"})
    assert refused.status_code == 422
    assert "Wall: nothing is written. It is needed." in refused.text
    made = client.get("/paper/cope.pdf", {**POST, "paper": "letter"})
    assert made["Content-Type"] == "application/pdf"
    assert set(sizes_mm(made.content)) == {(216, 279)}
    a_frame()
    assert client.get("/paper/cope/tube/cradle/brace/").status_code == 200
    assert client.get("/paper/cope/tube/cradle/rail/").status_code == 422
    assert client.get("/paper/cope/tube/cradle/mast/").status_code == 404
