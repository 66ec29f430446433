"""A task that names a piece waits where too little of it is left for it."""

from dataclasses import replace
from datetime import datetime

from fabshop import words
from fabshop.reckoning.facts import Facts, NeedFact, PieceFact, TaskFact
from fabshop.reckoning.readiness import readiness
from fabshop.reckoning.readiness.rack import lacking_pieces

NOW = datetime(2027, 9, 3, 19, 0)
PIECE = PieceFact("M08", words.PieceForm.TUBE, "304", left_um=193_000)


def task(code: str, wanted: int | None) -> TaskFact:
    need = NeedFact(words.NeedKind.RACK, "M08", wanted)
    return TaskFact(code, "", "Cut", needs=(need,))


def said(piece: PieceFact, wanted: int | None = 100_000) -> str:
    facts = Facts(NOW, tasks=(task("W45", wanted),), pieces=(piece,))
    lacks = lacking_pieces(facts).get("W45", ())
    return lacks[0].sentence if lacks else ""


def test_enough_is_left_for_the_task() -> None:
    assert said(PIECE) == ""
    assert said(PIECE, None) == ""


def test_too_little_is_left() -> None:
    assert said(PIECE, 200_000) == "M08 193 mm left, 200 mm wanted"


def test_what_another_task_holds_is_not_there_for_this_one() -> None:
    held = replace(PIECE, held=(("W41", 150_000),))
    assert said(held) == "M08 193 mm left, held for W41, 100 mm wanted"
    assert said(replace(PIECE, held=(("W41", 193_000),)), None) == (
        "M08 193 mm left, held for W41"
    )


def test_what_is_cut_for_it_is_in_hand() -> None:
    """A task that had cut its part was held up by the length it had cut."""
    stub = replace(PIECE, left_um=90_000, parts=(("W45", 60_000),))
    assert said(stub, 60_000) == ""
    assert said(stub, 150_000) == ""
    assert said(stub, 151_000) == "M08 90 mm left, 91 mm wanted"
    gone = replace(stub, left_um=0, is_retired=True)
    assert said(gone, 60_000) == said(gone, None) == ""


def test_two_lengths_of_one_piece_are_wanted_together() -> None:
    needs = tuple(NeedFact(words.NeedKind.RACK, "M08", um) for um in (100_000, 94_000))
    both = TaskFact("W45", "", "Cut", needs=needs)
    (lack,) = lacking_pieces(Facts(NOW, tasks=(both,), pieces=(PIECE,)))["W45"]
    assert lack.sentence == "M08 193 mm left, 194 mm wanted"


def test_what_it_holds_itself_is() -> None:
    assert said(replace(PIECE, held=(("W45", 193_000),))) == ""


def test_a_piece_that_is_gone_used_up_or_below_nothing_says_so() -> None:
    assert said(replace(PIECE, is_retired=True)) == "M08 is gone from the rack"
    assert said(replace(PIECE, left_um=0), None) == "M08 is used up"
    assert said(replace(PIECE, left_um=-34_000)) == "M08 reads −34 mm: measure it"


def test_a_code_of_no_piece_and_a_finished_task_lack_nothing() -> None:
    done = replace(task("W45", 900_000), state=words.TaskState.DONE)
    assert lacking_pieces(Facts(NOW, tasks=(done,), pieces=(PIECE,))) == {}
    assert lacking_pieces(Facts(NOW, tasks=(task("W45", 900_000),))) == {}


def test_it_wants_parts_and_nobody_knows_when() -> None:
    facts = Facts(NOW, tasks=(task("W45", 900_000),), pieces=(PIECE,))
    ready = readiness(facts)["W45"]
    assert ready.why is words.Why.WANTS_PARTS
    assert ready.reasons[0].pieces == ("M08",)
    assert ready.free_at is None
