"""What a piece weighs, and which pieces a wanted length could come from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi

from fabshop import words
from fabshop.reckoning.facts import PieceFact

# A cubic centimetre is 1e12 cubic micrometres.
_UM3_PER_CM3 = 10**12


def section_um2(
    form: words.PieceForm, *, od_um: int = 0, wall_um: int = 0, flat_um2: int = 0
) -> float:
    """The area of a cross-section in square micrometres; of a flat piece as given."""
    if form is words.PieceForm.TUBE:
        return pi / 4 * (od_um**2 - (od_um - 2 * wall_um) ** 2)
    if form is words.PieceForm.ROD:
        return pi / 4 * od_um**2
    return flat_um2


def mass_mg(piece: PieceFact, length_um: int | None = None) -> int:
    """What a piece, or a length of it, weighs; nothing where nothing is left."""
    area = section_um2(
        piece.form,
        od_um=piece.od_um,
        wall_um=piece.wall_um,
        flat_um2=piece.thickness_um * max(0, piece.wide_um),
    )
    length = max(0, piece.left_um if length_um is None else length_um)
    return round(area * length * piece.density_mg_cm3 / _UM3_PER_CM3)


@dataclass(frozen=True)
class Candidate:
    """A piece that a length could be cut from, and what then remains of it."""

    piece: PieceFact
    after_um: int
    is_held: bool = False


@dataclass(frozen=True)
class TooShort:
    """The longest piece of the kind, and by how much it is too short."""

    piece: PieceFact
    by_um: int


def candidates(
    pieces: Iterable[PieceFact],
    wanted_um: int,
    *,
    kerf_um: int,
    tasks: tuple[str, ...] = (),
    for_frame: bool = False,
) -> tuple[Candidate, ...]:
    """The pieces that are long enough, shortest first, drops before full lengths.

    What other tasks hold is not offered; a frame gets no unknown heat lot. A piece
    that is exactly as long needs no cut.
    """
    found = []
    for piece in pieces:
        if piece.is_retired or (for_frame and piece.lot_is_unknown):
            continue
        room = piece.free_for(*tasks)
        if room == wanted_um == piece.left_um:
            found.append(Candidate(piece, 0))
        elif room >= wanted_um + kerf_um:
            found.append(Candidate(piece, piece.left_um - wanted_um - kerf_um))
    found.sort(key=lambda c: (c.piece.left_um, not c.piece.is_drop, c.piece.id))
    return tuple(found)


def too_short(
    pieces: Iterable[PieceFact], wanted_um: int, *, kerf_um: int
) -> TooShort | None:
    """The longest piece that is still too short; None where there is none at all."""
    longest = max(
        (piece for piece in pieces if not piece.is_retired),
        key=lambda piece: (piece.left_um, piece.id),
        default=None,
    )
    if longest is None:
        return None
    return TooShort(longest, wanted_um + kerf_um - longest.left_um)
