"""What sits on a build now: taken off, put on, swapped, as it is seen at the bench."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.build.change import locked, locked_together
from fabshop.actions.build.component import component_of
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.shop.allowed import require
from fabshop.actions.task.finish import holds_under
from fabshop.actions.typed import one_line
from fabshop.actions.unaccepted import refuse_over_joints
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.reckoning.access import Cover as Over
from fabshop.reckoning.access import removals_to_reach
from fabshop.records.build import Component, Cover
from fabshop.records.shop import Person
from fabshop.records.task import ReadingTaken, Task


@once(words.EntryKind.TAKEN_OFF, first=component_of)
def take_off(
    *,
    by: Person,
    component: Component,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    with_covers: bool = False,
    confirm: bool = False,
) -> Component:
    """Take a component off; off already is no error.

    Refuses while something lies over it, unless `with_covers` takes that off too.
    What is bonded or welded for good is destroyed by it, and that is asked first.
    """
    require(by, "write")
    # What lies over it is looked up first, so that all of it is held at once.
    component, *over = locked_together([component, *lies_over(component)])
    if not component.is_on:
        return component
    over = [part for part in over if part.is_on]
    if over and not with_covers:
        raise Clash(
            f"{component} lies under {_listed(over)}. Take that off first.",
            field="with_covers",
            code="shut-in",
        )
    for part in (*over, component):
        _ask_before_breaking(part, confirm=confirm)
    with_it = []
    for part in over:
        before: Before = {}
        _move_off(part, before)
        entry = write_entry(
            kind=words.EntryKind.TAKEN_OFF,
            by=by,
            now=now,
            at=at,
            component=part,
            text=f"To reach {component.code}.",
            before=before,
        )
        with_it.append(entry.pk)
    before = {"with": with_it} if with_it else {}
    _move_off(component, before)
    write_entry(
        kind=words.EntryKind.TAKEN_OFF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        component=component,
        before=before,
    )
    return component


@once(words.EntryKind.PUT_ON, first=component_of)
def put_on(
    *,
    by: Person,
    component: Component,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    for_now: str = "",
) -> Component:
    """Put a component back on; on already is no error.

    Refuses what is not there, and what would close the zone of a hold that nobody
    has signed or waived. The order of several is not asked: taps come in late.
    While the hold has not been begun the owner may put it on `for_now`, with a
    reason; it is known from then on as what must come off again.
    """
    require(by, "write")
    component = locked(component)
    if component.is_on:
        return component
    if component.state == words.ComponentState.MISSING:
        raise Clash(
            f"{component} is missing: there is nothing to put on. "
            "Say first what sits there now.",
            code="missing",
        )
    refuse_over_joints(components=[component])
    holds = holds_under(component)
    if holds:
        _refuse_over(holds, component, by=by, for_now=for_now)
    before: Before = {}
    move(component, before, is_on=True)
    if holds:
        before["for_now"] = [hold.code for hold in holds]
    write_entry(
        kind=words.EntryKind.PUT_ON,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        component=component,
        text=_for_now(holds, for_now),
        before=before,
    )
    return component


@once(words.EntryKind.CHANGED, first=component_of)
def swap_component(
    *,
    by: Person,
    component: Component,
    state: words.ComponentState | str,
    now: datetime,
    seen: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Component:
    """Say what is there now: nothing, a stand-in, a dry fit or the final part.

    What was missing lies on the bench first; putting it on is another tap. `seen` is
    what stood on the writer's page: where somebody said otherwise since, it asks.
    """
    require(by, "write")
    component = locked(component)
    try:
        state = words.ComponentState(state)
    except ValueError:
        known = ", ".join(word.value for word in words.ComponentState)
        raise BadInput(
            f"State: “{str(state)[:20]}” is none of {known}.", field="state"
        ) from None
    if state == words.ComponentState.RETIRED:
        raise BadInput("A component is retired by a button of its own.", field="state")
    if state == component.state:
        return component
    was = words.ComponentState(component.state)
    if seen and seen != was:
        raise Clash(
            f"{component}: somebody said {was.label} since you read it; you say "
            f"{state.label}. Look, and say it again if it is so.",
            field="state",
            code="has-moved",
        )
    before: Before = {}
    gone = state == words.ComponentState.MISSING
    move(component, before, state=state, is_on=component.is_on and not gone)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        component=component,
        text=f"Was {was.label}, is {state.label} now.",
        before=before,
    )
    return component


def lies_over(component: Component) -> list[Component]:
    """What must come off before `component` can, outermost first, least minutes."""
    parts = {
        part.code: part
        for part in Component.objects.present().filter(build_id=component.build_id)
    }
    routes: dict[str, dict[int, list[str]]] = {code: {} for code in parts}
    covers = Cover.objects.filter(under__build_id=component.build_id)
    for under, route, cover in covers.values_list(
        "under__code", "route", "cover__code"
    ):
        if under in parts and cover in parts:
            routes[under].setdefault(route, []).append(cover)
    over = {
        code: Over(
            code,
            part.off_minutes or 0,
            tuple(tuple(sorted(way)) for way in routes[code].values()),
            is_off=not part.is_on,
        )
        for code, part in parts.items()
    }
    if component.code not in parts:
        return []
    removals = removals_to_reach(over, [component.code])
    return [parts[code] for code in removals.order]


def _refuse_over(
    holds: tuple[Task, ...], component: Component, *, by: Person, for_now: str
) -> None:
    """Refuse to close holds, but for now and with a reason those not begun yet."""
    begun = [hold for hold in holds if _is_begun(hold)]
    is_lasting = component.is_for_good and component.state == words.ComponentState.FINAL
    if begun or is_lasting or not for_now.strip():
        raise Clash(
            f"Not yet: {component} would lie over "
            f"{' and '.join(str(hold) for hold in begun or holds)}, not signed. "
            "Sign it, or waive it with a reason.",
            code="hold-unsigned",
        )
    if not by.is_owner:
        raise NotAllowed(
            f"Only the owner puts {component.code} on for now over a hold."
        )


def _is_begun(hold: Task) -> bool:
    """Whether anybody has worked on this hold, read it or said how it went."""
    return (
        hold.state != words.TaskState.OPEN
        or hold.signings.filter(is_taken_back=False).exists()
        or ReadingTaken.objects.filter(reading__task=hold).exists()
    )


def _for_now(holds: tuple[Task, ...], for_now: str) -> str:
    if not holds:
        return ""
    names = " and ".join(hold.code for hold in holds)
    reason = one_line(for_now, field="for_now", label="For now", most=200)
    return f"For now, over {names}, not signed: {reason}. It must come off again."


def _ask_before_breaking(part: Component, *, confirm: bool) -> None:
    if part.is_for_good and part.state == words.ComponentState.FINAL and not confirm:
        raise NeedsAnswer(
            f"{part} is on for good: taking it off destroys it, and a new one is "
            "needed. Cut it out?",
            field="confirm",
            code="destroys",
        )


def _move_off(part: Component, before: Before) -> None:
    """What comes off lies on the bench; what was on for good is gone with it."""
    if part.is_for_good and part.state == words.ComponentState.FINAL:
        move(part, before, is_on=False, state=words.ComponentState.MISSING)
    else:
        move(part, before, is_on=False)


def _listed(parts: list[Component]) -> str:
    names = [str(part) for part in parts]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
