"""Whether the gas left is enough for every joint of a set, before the first arc."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GasFact:
    """A joint still to weld and the thousandths of a bar it takes; None = unknown."""

    joint: str
    mbar: int | None


@dataclass(frozen=True, slots=True)
class GasStand:
    """What the set needs against what is left; `unknown` joints count as nothing.

    `spare_mbar` is below nothing where it does not reach, None where nobody has
    noted what is left.
    """

    needed_mbar: int
    left_mbar: int | None
    unknown: tuple[str, ...]
    short_from: str

    @property
    def spare_mbar(self) -> int | None:
        return None if self.left_mbar is None else self.left_mbar - self.needed_mbar

    @property
    def sentence(self) -> str:
        """The line that stands first on the page and the sheet; "" without gas."""
        if not self.needed_mbar and not self.unknown:
            return ""
        needs = f"this set needs {'at least ' * bool(self.unknown)}"
        needs += f"{_bar(self.needed_mbar)}"
        said = f"{needs}; nobody has noted what is left"
        if self.left_mbar is not None:
            said = f"{_bar(self.left_mbar)} bar, {needs}"
            said += f": {self._reserve()}"
        said = said[0].upper() + said[1:]
        if self.unknown:
            said += f". What {' '.join(self.unknown)} takes is not noted"
        return f"{said}."

    def _reserve(self) -> str:
        spare = self.spare_mbar or 0
        if spare < 0:
            return f"{_bar(-spare)} short, gone at {self.short_from}. Book the swap"
        if spare == 0:
            return "no reserve, book the swap"
        return f"{_bar(spare)} in reserve"


def gas_of_set(joints: Sequence[GasFact], left_mbar: int | None) -> GasStand:
    """The gas of all these joints, in the order they are welded.

    `short_from` is the first joint at which it runs out.
    """
    needed, short_from = 0, ""
    for joint in joints:
        needed += joint.mbar or 0
        if left_mbar is not None and needed > left_mbar and not short_from:
            short_from = joint.joint
    return GasStand(
        needed_mbar=needed,
        left_mbar=left_mbar,
        unknown=tuple(joint.joint for joint in joints if joint.mbar is None),
        short_from=short_from,
    )


def _bar(mbar: int) -> str:
    return f"{mbar / 1000:g}"
