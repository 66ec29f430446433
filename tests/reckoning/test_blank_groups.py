"""Sheets and wished rectangles become questions, answers become marked drawings."""

from dataclasses import replace

from fabshop import words
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.blank_groups import blank_groups, laid_out, why_fewest
from fabshop.reckoning.facts import PieceFact, WishFact

SHEET = words.PieceForm.SHEET
M16 = PieceFact(
    "M16", SHEET, "5754", left_um=400_000, wide_um=300_000, section="2", heat_lot="x"
)
M17 = replace(M16, id="M17", left_um=260_000, wide_um=140_000, is_drop=True)
PLATE = WishFact(
    "L10", "plate", "5754", SHEET, 90_000, 2, cut=1, wide_um=140_000, section="2"
)


def test_drops_cost_nothing_and_come_first() -> None:
    (group,) = blank_groups([M16, M17], [PLATE])
    question = group.question(kerf_um=1200, time_limit_s=2)
    assert [(s["id"], s["cost"]) for s in question["sheets"]] == [
        ("M17", 0),
        ("M16", 1200),
    ]
    answer = laid_out(group, reckon("blanks", question), kerf_um=1200)
    (sheet,) = answer["sheets"]
    assert sheet["piece"] == "M17"
    assert [blank["mark"] for blank in sheet["blanks"]] == ["L10b", "L10c"]
    assert answer["why_best"].startswith("Proven: 1 sheet does")
    assert sheet["view"] == "-1 -1 262 142"


def test_tubes_other_thicknesses_and_held_sheets_are_kept_apart() -> None:
    thin = replace(M16, id="M18", section="1")
    held = replace(M17, held=(("W99", 1),))
    tube = replace(PLATE, id="L01", wide_um=0)
    (group,) = blank_groups([M16, thin, held], [PLATE, tube])
    assert [sheet.id for sheet in group.sheets] == ["M16"]
    assert group.kept_out == (("M17", "held for W99"),)
    assert [wish.id for wish in group.wishes] == ["L10"]


def test_an_unknown_lot_is_kept_out_of_a_frame_and_what_is_below_nothing_out() -> None:
    nobody = replace(M16, id="M1", heat_lot="")
    minus = replace(M16, id="M2", left_um=-5)
    (group,) = blank_groups([nobody, minus], [replace(PLATE, for_frame=True)])
    assert dict(group.kept_out) == {
        "M1": "heat lot unknown, and this goes into a frame",
        "M2": "measure it",
    }


def test_what_does_not_fit_and_what_is_not_proven_is_said() -> None:
    (group,) = blank_groups([M17], [replace(PLATE, length_um=900_000)])
    answer = reckon("blanks", group.question(kerf_um=0, time_limit_s=1))
    told = laid_out(group, answer, kerf_um=0)
    assert told["short"][0]["why"] == "larger than every sheet"
    assert told["why_best"] == "None of it can be cut of what is here."
    open_ = {"totals": {"opened": 3, "fewest": 2}}
    gap = {"aim": "sheets", "reached": 3, "bound": 2}
    assert why_fewest(open_ | {"gap": gap}) == (
        "Best found, not proven: 3 sheets; at least 2 are needed."
    )
    gap = {"aim": "blanks", "reached": 5, "bound": 6}
    assert why_fewest(open_ | {"gap": gap}) == (
        "Best found, not proven: 5 blanks, at best 6."
    )
