"""What can never be reached again once something is fitted for good."""

from __future__ import annotations

from collections.abc import Iterable

from fabshop.reckoning.facts import ComponentFact


def shut_for_good(
    fitted: Iterable[str], components: Iterable[ComponentFact]
) -> tuple[str, ...]:
    """The components that `fitted` closes off for ever, in order of code.

    A component is closed off when each of its routes needs off something that is
    fitted for good or is itself closed off. What is fitted is not listed.
    """
    parts = {part.id: part for part in components}
    fixed = set(fitted)
    shut = set(fixed)
    while True:
        more = {
            name
            for name, part in parts.items()
            if name not in shut
            and part.routes
            and all(shut & set(route) for route in part.routes)
        }
        if not more:
            return tuple(sorted(shut - fixed))
        shut |= more
