"""Facts about joints that are not accepted and what would come over them."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words


@dataclass(frozen=True, slots=True)
class JointFact:
    """A joint not accepted: its welding task, and what paints or covers it."""

    id: str
    state: words.JointState
    task: str = ""
    tasks: tuple[str, ...] = ()
    components: tuple[str, ...] = ()
