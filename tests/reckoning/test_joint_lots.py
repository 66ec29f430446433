"""Two heat lots in one joint are named; one lot, or one nobody wrote down, is not."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.facts import WishFact
from fabshop.reckoning.joint_lots import joint_lots, two_lots

BARS = [
    {"heat_lot": "7K139", "cuts": [{"wish": "L02", "mark": "L02a", "joints": ["J17"]}]},
    {"heat_lot": "7K214", "cuts": [{"wish": "L02", "mark": "L02b", "joints": ["J18"]}]},
    {"heat_lot": "", "cuts": [{"wish": "L07", "mark": "L07a", "joints": ["J27"]}]},
]


def test_a_tube_of_another_lot_than_its_main_is_named_by_joint() -> None:
    onto = {"J17": "7K214", "J18": "7K214", "J27": "7K214"}
    assert joint_lots(BARS, onto) == [
        {"joint": "J17", "mark": "L02a", "cut": "7K139", "onto": "7K214"},
        {"joint": "J27", "mark": "L07a", "cut": "unknown", "onto": "7K214"},
    ]


def test_a_main_whose_lot_is_not_written_down_is_not_told() -> None:
    assert joint_lots(BARS, {"J17": ""}) == []


def test_a_wish_cut_of_two_pieces_names_both_lots() -> None:
    wishes = {
        name: WishFact(name, "", "304", words.PieceForm.TUBE, 1, 1, joints=joints)
        for name, joints in (("L02", ("J17", "J18")), ("L07", ("J27",)))
    }
    assert two_lots(BARS, wishes) == [
        {"wish": "L02", "lots": ["7K139", "7K214"], "joints": ["J17", "J18"]}
    ]
