import pytest

from fabshop.actions.typed import code, kept_text, number, one_line, some_line
from fabshop.errors import BadInput


def test_a_text_past_the_limit_keeps_its_beginning_and_says_the_count() -> None:
    text, notice = kept_text("a" * 20_007)
    assert len(text) == 20_000
    assert notice == (
        "The first 20000 of 20007 characters are kept; write the rest as another line."
    )


def test_nul_bytes_go_with_a_notice_and_other_control_bytes_stay() -> None:
    assert kept_text("a\x00b\x07\x00") == ("ab\x07", "2 NUL bytes left out.")


def test_half_a_character_cannot_be_stored_and_is_said() -> None:
    assert kept_text("a\ud83d") == ("a", "1 broken character left out.")


def test_emoji_and_right_to_left_text_are_kept_as_they_are() -> None:
    text = "🔧 זזה \u200f‎"
    assert kept_text(text) == (text, "")


def test_a_line_is_one_line_within_its_limit() -> None:
    assert one_line(" a\n b ", field="title", label="Title", most=5) == "a b"
    with pytest.raises(BadInput, match="Title: 6 characters, but at most 5 fit"):
        one_line("abcdef", field="title", label="Title", most=5)


def test_an_empty_line_is_refused_where_something_must_be_said() -> None:
    with pytest.raises(BadInput) as refused:
        some_line("  ", field="why", label="Why", most=5)
    assert refused.value.field == "why"
    assert str(refused.value) == "Why: nothing is written."


@pytest.mark.parametrize("bad", ["", "W 14", "../W14", "é", "x" * 41])
def test_a_code_must_be_fit_for_an_address(bad: str) -> None:
    with pytest.raises(BadInput, match="will not do"):
        code(bad)


def test_a_number_below_nothing_is_refused_with_what_was_seen() -> None:
    assert number(0, field="minutes", label="Minutes") == 0
    with pytest.raises(BadInput, match="Minutes: -3 is less than nothing"):
        number(-3, field="minutes", label="Minutes")
    with pytest.raises(BadInput, match="is more than 480"):
        number(481, field="minutes", label="Minutes", most=480)
