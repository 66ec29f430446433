from fabshop.actions.order.freed import outcome
from fabshop.reckoning.readiness import Reason, TaskReady
from fabshop.words import Why

TITLES = {"W13": "Ducts", "W20": "Pod", "W61": "Bolsters"}


def ready(task: str, *reasons: Reason) -> dict[str, TaskReady]:
    return {task: TaskReady(task, reasons[0].why if reasons else Why.READY, reasons)}


def wants(*lines: str) -> tuple[Reason, ...]:
    return tuple(Reason(Why.WANTS_PARTS, "x", lines=(line,)) for line in lines)


def test_a_task_whose_parts_are_all_here_is_freed_and_says_what_else_it_waits_for() -> (
    None
):
    after_bed = Reason(Why.AFTER_ANOTHER, "after W46", tasks=("W46",))
    shut = Reason(Why.SHUT_IN, "T02 off first")
    late = Reason(Why.OUT_OF_HOURS, "hours begin")
    result = outcome(
        ready("W61", *wants("P04/1"), after_bed),
        ready("W61", after_bed, shut, late),
        {"P04/1"},
        TITLES,
    )
    assert result.freed == ("W61",)
    assert result.sentences == (
        "Parts complete for W61 Bolsters; still after W46, shut in.",
    )


def test_a_task_that_still_wants_something_says_what() -> None:
    result = outcome(
        ready("W13", *wants("P02/1", "P03/1")),
        ready("W13", *wants("P03/1")),
        {"P02/1"},
        TITLES,
    )
    assert (result.freed, result.sentences) == ((), ("W13 Ducts still wants P03.",))


def test_a_task_that_wanted_none_of_it_is_not_spoken_of() -> None:
    result = outcome(ready("W20", *wants("P05/1")), ready("W20"), {"P04/1"}, TITLES)
    assert (result.freed, result.sentences) == ((), ())


def test_a_task_with_nothing_else_in_the_way_just_has_its_parts() -> None:
    result = outcome(ready("W20", *wants("P05/1")), ready("W20"), {"P05/1"}, TITLES)
    assert result.sentences == ("Parts complete for W20 Pod.",)
