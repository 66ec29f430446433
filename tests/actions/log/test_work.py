from datetime import datetime, timedelta
from fractions import Fraction

import pytest

from fabshop import words
from fabshop.actions.log.timer import start_work
from fabshop.actions.log.work import finish_work, note, part_done, stick
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import EstimateFactory, StageFactory, TaskFactory


@pytest.fixture
def weld(owner: Person) -> Task:
    task = TaskFactory(code="W33", title="Weld the loop")
    EstimateFactory(task=task, minutes=50)
    return task


def test_done_stops_the_timer_and_finishes_the_task(
    owner: Person, weld: Task, now: datetime
) -> None:
    StageFactory(task=weld, kind=words.StageKind.CURE, minutes=60)
    start_work(by=owner, task=weld, now=now)
    end = now + timedelta(minutes=45)
    done = finish_work(by=owner, task=weld, now=end, text="Clean bead", client_id="d")
    weld.refresh_from_db()
    assert (weld.state, weld.done_at) == (words.TaskState.DONE, end)
    assert weld.cured_at == end + timedelta(hours=1)
    assert LogEntry.objects.get(kind="stop").minutes == 45
    assert (done.minutes, done.text) == (None, "Clean bead")
    assert not Timer.objects.exists()
    assert finish_work(by=owner, task=weld, now=end, client_id="d") == done
    with pytest.raises(Clash, match="W33 Weld the loop is done already"):
        finish_work(by=owner, task=weld, now=end)


def test_done_without_a_timer_books_the_minutes_that_are_said(
    helper: Person, weld: Task, now: datetime
) -> None:
    assert finish_work(by=helper, task=weld, now=now, minutes=30).minutes == 30
    assert LogEntry.objects.count() == 1


def test_done_asks_about_a_forgotten_timer_and_then_counts_from_the_true_end(
    owner: Person, weld: Task, now: datetime
) -> None:
    StageFactory(task=weld, kind=words.StageKind.CURE, minutes=60)
    start_work(by=owner, task=weld, now=now)
    morning = now + timedelta(hours=10)
    with pytest.raises(NeedsAnswer, match="Still on it, or when did you stop"):
        finish_work(by=owner, task=weld, now=morning)
    end = now + timedelta(minutes=40)
    finish_work(by=owner, task=weld, now=morning, ended_at=end)
    weld.refresh_from_db()
    assert weld.cured_at == end + timedelta(hours=1)
    assert LogEntry.objects.get(kind="stop").minutes == 40


def test_a_task_stays_under_nobody_elses_timer(
    owner: Person, helper: Person, weld: Task, now: datetime
) -> None:
    start_work(by=helper, task=weld, now=now)
    part_done(by=owner, task=weld, now=now, left_minutes=10)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.UNDER_WAY
    assert Timer.objects.get().person == helper


def test_the_owners_waiver_is_in_the_log(
    owner: Person, weld: Task, now: datetime
) -> None:
    done = finish_work(by=owner, task=weld, now=now, waive="cut it out later")
    assert done.text == "Waived: cut it out later"


@pytest.mark.parametrize(
    ("share", "left"),
    [(Fraction(1, 4), 13), (0.5, 25), (Fraction(3, 4), 38), (0, 0), (1, 50)],
)
def test_part_done_takes_a_share_of_the_guess(
    owner: Person, weld: Task, now: datetime, share: float, left: int
) -> None:
    entry = part_done(by=owner, task=weld, now=now, left_share=share)
    weld.refresh_from_db()
    assert (entry.left_minutes, weld.left_minutes) == (left, left)
    assert weld.state == words.TaskState.OPEN


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({}, "How much is left: minutes, or ¼ ½ ¾?"),
        ({"left_minutes": 5, "left_share": 0.5}, "How much is left"),
        ({"left_minutes": -5}, "Left: -5 is less than nothing"),
        ({"left_share": 1.5}, "1.5 is not a share of the task"),
        ({"left_share": float("nan")}, "nan is not a share of the task"),
    ],
)
def test_part_done_asks_for_one_true_answer(
    owner: Person, weld: Task, now: datetime, said: dict[str, float], why: str
) -> None:
    with pytest.raises(BadInput, match=why.replace("?", r"\?")):
        part_done(by=owner, task=weld, now=now, **said)  # type: ignore[arg-type]


def test_a_share_of_no_guess_asks_for_minutes(owner: Person, now: datetime) -> None:
    task = TaskFactory(code="W1", title="Sand")
    with pytest.raises(BadInput, match="W1 Sand has no guess to take a share of"):
        part_done(by=owner, task=task, now=now, left_share=0.5)


def test_stuck_says_on_what_and_stops_the_timer(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(BadInput, match="Stuck on what"):
        stick(by=owner, task=weld, on="luck", now=now)
    entry = stick(by=owner, task=weld, on="tool", now=now, text="No 2 mm bit")
    assert (entry.stuck_on, entry.text) == ("tool", "No 2 mm bit")
    assert not Timer.objects.exists()
    weld.refresh_from_db()
    assert weld.state == words.TaskState.OPEN


@pytest.mark.parametrize("text", ["🔧", "\u202eשלום", "a\x07b", "<script>1</script>"])
def test_whatever_is_typed_is_kept(owner: Person, now: datetime, text: str) -> None:
    assert note(by=owner, text=text, now=now).text == text


def test_a_note_needs_words_or_a_photo(owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="Nothing is written yet"):
        note(by=owner, text=" \x00", now=now)
    assert note(by=owner, text="", now=now, has_photo=True).text == ""


def test_a_viewer_writes_nothing(viewer: Person, weld: Task, now: datetime) -> None:
    for write in (
        lambda: finish_work(by=viewer, task=weld, now=now),
        lambda: part_done(by=viewer, task=weld, now=now, left_minutes=1),
        lambda: stick(by=viewer, task=weld, on="tool", now=now),
        lambda: note(by=viewer, text="x", now=now),
    ):
        with pytest.raises(NotAllowed, match="You may look"):
            write()
    assert not LogEntry.objects.exists()
