"""What pieces weigh against worked figures, and what a length could come from."""

from dataclasses import replace
from math import pi

import pytest

from fabshop import words
from fabshop.reckoning.facts import PieceFact
from fabshop.reckoning.stock import candidates, mass_mg, section_um2, too_short

TUBE, ROD, SHEET = words.PieceForm.TUBE, words.PieceForm.ROD, words.PieceForm.SHEET


@pytest.mark.parametrize(
    ("density", "od", "wall", "grams"),
    [
        # a metre each, worked from rho pi/4 (OD^2 - ID^2): titanium 3Al-2.5V,
        # chromoly, 6061
        (4480, 38_100, 900, 471.21),
        (7850, 25_400, 889, 537.38),
        (2700, 25_400, 3175, 598.55),
    ],
)
def test_a_metre_of_tube_weighs_what_was_worked_out(
    density: int, od: int, wall: int, grams: float
) -> None:
    piece = PieceFact(
        "M",
        TUBE,
        "x",
        left_um=1_000_000,
        density_mg_cm3=density,
        od_um=od,
        wall_um=wall,
    )
    assert mass_mg(piece) / 1000 == pytest.approx(grams, abs=0.01)


def test_a_rod_and_a_sheet_weigh_their_volume() -> None:
    rod = PieceFact("M", ROD, "x", left_um=1_000_000, density_mg_cm3=1000, od_um=10_000)
    assert mass_mg(rod) == pytest.approx(pi / 4 * 100 * 1000, abs=1)
    sheet = PieceFact(
        "M",
        SHEET,
        "x",
        left_um=400_000,
        wide_um=300_000,
        thickness_um=2000,
        density_mg_cm3=2670,
    )
    # 240 cm3 of 2.67
    assert mass_mg(sheet) == 640_800
    assert mass_mg(sheet, 200_000) == 320_400


def test_what_reads_below_nothing_weighs_nothing() -> None:
    rod = PieceFact("M", ROD, "x", left_um=-34_000, density_mg_cm3=1000, od_um=1000)
    assert mass_mg(rod) == 0


def test_a_tube_whose_wall_is_its_radius_is_a_rod() -> None:
    assert section_um2(TUBE, od_um=8000, wall_um=4000) == section_um2(ROD, od_um=8000)


def piece(code: str, left: int, **more: object) -> PieceFact:
    known = {"heat_lot": "7K214", **more}
    return replace(PieceFact(code, TUBE, "304", left_um=left * 1000), **known)


RACK = (
    piece("M07", 1000, held=(("W41", 1_000_000),)),
    piece("M08", 1000),
    piece("M10", 347, is_drop=True),
    piece("M11", 181, is_drop=True),
    piece("M12", 250, is_drop=True, heat_lot=""),
)


def offered(wanted: float, **more: object) -> list[tuple[str, float]]:
    found = candidates(RACK, round(wanted * 1000), kerf_um=1200, **more)
    return [(one.piece.id, one.after_um / 1000) for one in found]


def test_the_shortest_that_does_comes_first_and_held_ones_not_at_all() -> None:
    assert offered(218) == [("M12", 30.8), ("M10", 127.8), ("M08", 780.8)]


def test_a_task_is_offered_what_it_holds() -> None:
    assert offered(500, tasks=("W41",)) == [("M07", 498.8), ("M08", 498.8)]


def test_a_frame_is_offered_no_unknown_lot() -> None:
    assert offered(218, for_frame=True) == [("M10", 127.8), ("M08", 780.8)]


def test_a_piece_just_as_long_needs_no_cut() -> None:
    # but one that is longer needs room for the kerf too
    assert offered(181)[0] == ("M11", 0)
    assert "M11" not in dict(offered(180.5))
    assert offered(179.8)[0] == ("M11", 0)


def test_what_is_too_short_says_by_how_much() -> None:
    found = too_short(RACK[2:], 347_000, kerf_um=1200)
    assert found is not None
    assert (found.piece.id, found.by_um) == ("M10", 1200)
    assert too_short((), 1, kerf_um=0) is None
