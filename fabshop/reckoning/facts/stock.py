"""Facts about what lies on the rack."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words


@dataclass(frozen=True, slots=True)
class PieceFact:
    """One piece as the record has it, in micrometres.

    `left_um` may be below nothing where two cuts were made apart. `held` says which
    tasks hold how much of it still, `parts` which have how much of it cut already.
    """

    id: str
    form: words.PieceForm
    material: str
    left_um: int
    name: str = ""
    family: str = ""
    density_mg_cm3: int = 0
    od_um: int = 0
    wall_um: int = 0
    thickness_um: int = 0
    wide_um: int = 0
    section: str = ""
    heat_lot: str = ""
    has_heat: bool = True
    grain: words.Grain = words.Grain.NONE
    place: str = ""
    is_drop: bool = False
    drop_of: str = ""
    note: str = ""
    is_retired: bool = False
    held: tuple[tuple[str, int], ...] = ()
    parts: tuple[tuple[str, int], ...] = ()

    @property
    def held_um(self) -> int:
        return sum(length for _, length in self.held)

    @property
    def free_um(self) -> int:
        """What no task holds; below nothing where more is held than there is."""
        return self.left_um - self.held_um

    @property
    def is_flat(self) -> bool:
        return self.form in (words.PieceForm.SHEET, words.PieceForm.ROLL)

    @property
    def lot_is_unknown(self) -> bool:
        return self.has_heat and not self.heat_lot

    def free_for(self, *tasks: str) -> int:
        """What is left for these tasks: the free length, and what they hold."""
        return self.left_um - sum(um for task, um in self.held if task not in tasks)


@dataclass(frozen=True, slots=True)
class WishFact:
    """So many of one length, or of one rectangle, that are still to be cut.

    `cut` of them are cut already; their marks are used.
    """

    id: str
    title: str
    material: str
    form: words.PieceForm
    length_um: int
    count: int
    cut: int = 0
    wide_um: int = 0
    section: str = ""
    material_name: str = ""
    joints: tuple[str, ...] = ()
    task: str = ""
    for_frame: bool = False
    grain: words.Grain = words.Grain.NONE
