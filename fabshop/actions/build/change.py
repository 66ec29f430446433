"""Changing what others may be changing too: both versions are shown, none is lost."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fabshop import words
from fabshop.errors import Clash, FieldError
from fabshop.records.build import Build, Component


def refuse_closed(build: Build) -> None:
    """Refuse to change a build that has been closed; it is only read."""
    if build.state == words.BuildState.CLOSED:
        raise Clash(f"{build.name} is closed: it is read, not changed.", code="closed")


def locked(component: Component) -> Component:
    """The component as it is now, held until this action is over."""
    return locked_together([component])[0]


def locked_together(components: Sequence[Component]) -> list[Component]:
    """The components as they are now, in the order given.

    They are taken hold of in one order whoever asks, so that two people who each
    need what the other has never wait for one another.
    """
    wanted = [component.pk for component in components]
    fresh = {
        component.pk: component
        for component in Component.objects.select_for_update(of=("self",))
        .select_related("build")
        .filter(pk__in=wanted)
        .order_by("code")
    }
    for component in fresh.values():
        refuse_closed(component.build)
        if component.state == words.ComponentState.RETIRED:
            raise Clash(f"{component} is retired.", code="retired")
    return [fresh[pk] for pk in wanted]


def changed_since(
    component: Component, given: dict[str, Any], version: int | None
) -> dict[str, Any]:
    """Return what of `given` is new; refuse it where somebody else wrote meanwhile.

    `version` is what the writer had read. Writing what is so already is no clash.
    """
    new = {
        name: value
        for name, value in given.items()
        if getattr(component, name) != value
    }
    if new and version is not None and version != component.version:
        errors = tuple(
            FieldError(
                name,
                f"{label(name)}: you wrote {said(value)}, by now it reads "
                f"{said(getattr(component, name))}.",
            )
            for name, value in new.items()
        )
        raise Clash(
            f"{component.code} has changed since you opened it. "
            + " ".join(error.message for error in errors)
            + " Save again to keep yours.",
            field=errors[0].field,
            code="changed-meanwhile",
            errors=errors,
        )
    return new


def label(name: str) -> str:
    return name.removeprefix("is_").replace("_", " ").capitalize()


def said(value: Any) -> str:
    """Say a kept value as it is typed: nothing, yes, or the words."""
    if value is None or value == "":
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"“{value}”"
