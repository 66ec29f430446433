"""Gas for a whole set, before the first arc."""

from __future__ import annotations

from fabshop.reckoning.prep import GasFact, gas_of_set

HOOP = [GasFact(f"J{number}", 3000) for number in range(17, 23)]


def test_the_hoop_takes_all_that_is_left() -> None:
    # Six purged hoop joints of about 3 bar each, 18 bar on the gauge.
    stand = gas_of_set(HOOP, 18_000)
    assert stand.spare_mbar == 0
    assert stand.sentence == "18 bar, this set needs 18: no reserve, book the swap."


def test_it_is_said_at_which_joint_it_runs_out() -> None:
    stand = gas_of_set(HOOP, 10_500)
    assert stand.sentence == (
        "10.5 bar, this set needs 18: 7.5 short, gone at J20. Book the swap."
    )


def test_a_reserve_is_named() -> None:
    sentence = gas_of_set(HOOP[:2], 18_000).sentence
    assert sentence == "18 bar, this set needs 6: 12 in reserve."


def test_what_nobody_has_noted_is_said_and_never_taken_for_nothing() -> None:
    stand = gas_of_set([*HOOP, GasFact("J99", None)], 20_000)
    assert stand.sentence == (
        "20 bar, this set needs at least 18: 2 in reserve. What J99 takes is not noted."
    )
    assert gas_of_set(HOOP, None).sentence == (
        "This set needs 18; nobody has noted what is left."
    )
    assert gas_of_set(HOOP, None).spare_mbar is None


def test_a_set_without_gas_says_nothing() -> None:
    assert gas_of_set([], 18_000).sentence == ""
    assert gas_of_set([GasFact("J01", 0)], None).sentence == ""
