"""The rack and the wishes become cut list questions, the answers marks on bars."""

from dataclasses import replace

import pytest

from fabshop import words
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.cut_groups import (
    Group,
    groups,
    joints_of,
    letter,
    told,
    why_best,
    without,
)
from fabshop.reckoning.facts import PieceFact, WishFact

TUBE = words.PieceForm.TUBE


def piece(code: str, left: float, **more: object) -> PieceFact:
    known: dict[str, object] = {"section": "8 × 1", "heat_lot": "7K214"}
    fact = PieceFact(code, TUBE, "304", left_um=round(left * 1000))
    return replace(fact, **(known | more))  # type: ignore[arg-type]


def wish(code: str, length: float, count: int = 1, **more: object) -> WishFact:
    known: dict[str, object] = {"section": "8 × 1", "task": "W41", "for_frame": True}
    fact = WishFact(code, code.lower(), "304", TUBE, round(length * 1000), count)
    return replace(fact, **(known | more))  # type: ignore[arg-type]


def asked(group: Group, kerf: float = 1.2, dressing: float = 1.0) -> dict:
    allowed = {"kerf_um": round(kerf * 1000), "dressing_um": round(dressing * 1000)}
    question = group.question(keep_over_um=15_000, time_limit_s=2, **allowed)
    return told(group, reckon("cutlist", question), **allowed)


def test_what_goes_into_frames_is_asked_apart_and_first() -> None:
    found = groups(
        [piece("M1", 1000)], [wish("L1", 100, for_frame=False), wish("L2", 100)]
    )
    assert [(g.for_frame, g.wishes[0].id) for g in found] == [
        (True, "L2"),
        (False, "L1"),
    ]
    assert without(found[1], ["M1"]).pieces == ()


def test_pieces_are_kept_out_with_their_reason() -> None:
    (group,) = groups(
        [
            piece("M1", 300),
            piece("M2", 300, heat_lot=""),
            piece("M3", 300, held=(("W99", 300_000),)),
            piece("M4", -34),
            piece("M5", 0),
            piece("M6", 300, is_retired=True),
            piece("M7", 300, section="6 × 1"),
        ],
        [wish("L1", 100)],
    )
    assert [one.id for one in group.pieces] == ["M1"]
    assert dict(group.kept_out) == {
        "M2": "heat lot unknown, and this goes into a frame",
        "M3": "held for W99",
        "M4": "measure it",
        "M5": "used up",
    }


def test_each_cut_comes_from_the_square_end_with_dressing_and_kerf() -> None:
    (group,) = groups([piece("M1", 500)], [wish("L1", 100, 2, cut=1)])
    (bar,) = asked(group)["bars"]
    assert [(c["mark"], c["part_um"], c["left_um"]) for c in bar["cuts"]] == [
        ("L1b", 102_000, 396_800),
        ("L1c", 102_000, 293_600),
    ]
    assert bar["fate"] == "drop"


def test_the_last_kerf_is_no_more_than_is_left() -> None:
    (group,) = groups([piece("M1", 102.5)], [wish("L1", 100)])
    (bar,) = asked(group)["bars"]
    assert (bar["cuts"][0]["kerf_um"], bar["left_um"], bar["tight"]) == (500, 0, True)


def test_two_lots_name_the_wish_and_its_joints() -> None:
    (group,) = groups(
        [piece("M1", 110), piece("M2", 110, heat_lot="7K139")],
        [wish("L1", 100, 2, joints=("J17", "J18"))],
    )
    answer = asked(group)
    assert answer["two_lots"] == [
        {"wish": "L1", "lots": ["7K139", "7K214"], "joints": ["J17", "J18"]}
    ]
    assert [c["joints"] for bar in answer["bars"] for c in bar["cuts"]] == [
        ["J17"],
        ["J18"],
    ]


@pytest.mark.parametrize(
    ("joints", "count", "number", "found"),
    [
        (("J1", "J2"), 1, 0, ("J1", "J2")),
        (("J1", "J2", "J3", "J4"), 2, 1, ("J3", "J4")),
        (("J1", "J2", "J3"), 2, 0, ("J1", "J2", "J3")),
        ((), 2, 0, ()),
    ],
)
def test_joints_are_dealt_out_in_order_if_that_goes_up(
    joints: tuple[str, ...], count: int, number: int, found: tuple[str, ...]
) -> None:
    assert joints_of(wish("L1", 1, count, joints=joints), number) == found


@pytest.mark.parametrize(("number", "found"), [(0, "a"), (25, "z"), (26, "aa")])
def test_marks_have_letters(number: int, found: str) -> None:
    assert letter(number) == found


def test_why_it_is_best_or_how_far_that_is_open() -> None:
    proven = {"status": "optimal", "bars": [1]}
    assert why_best(proven, "45 mm of M1") == (
        "Proven: no way cuts more or opens fewer new metres, or then keeps a longer "
        "single drop than 45 mm of M1."
    )
    assert why_best({"status": "optimal", "bars": []}, "") == (
        "Proven: nothing of it can be cut of what is here."
    )
    gap = {"aim": "drop", "reached": 45, "bound": 60.5}
    assert "whether 60.5 mm can be is not proven" in why_best(
        {"status": "feasible", "gap": gap}, "45 mm of M1"
    )
    gap = {"aim": "cost", "reached": 2000, "bound": 1000}
    assert why_best({"status": "feasible", "gap": gap}, "") == (
        "Best found, not proven: cost 2000, at best 1000."
    )
