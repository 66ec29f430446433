"""Tubes cut by tubes as meshes, a second opinion on copes (trimesh, manifold3d)."""

from __future__ import annotations

from typing import Any

import numpy as np
import trimesh

FACETS = 360
Point = tuple[float, float, float]


def rod(start: Point, end: Point, radius: float, facets: int = FACETS) -> Any:
    """A solid cylinder whose volume is a true cylinder's, to be cut with."""
    # Facets lie inside the circle; this radius gives their polygon the circle's area.
    step = 2 * np.pi / facets
    radius *= np.sqrt(step / np.sin(step))
    segment = np.array([start, end], dtype=float)
    return trimesh.creation.cylinder(radius=radius, segment=segment, sections=facets)


def tube_cut_by(
    tube: tuple[Point, Point, float, float],
    mains: list[tuple[Point, Point, float]],
) -> Any:
    """What is left of a tube (start, end, od, wall) when solid mains are cut from it.

    Only the piece between the mains is kept.
    """
    start, end, od, wall = tube
    a, b = np.array(start, dtype=float), np.array(end, dtype=float)
    along = (b - a) / np.linalg.norm(b - a)
    far_a, far_b = tuple(a - along * od), tuple(b + along * od)
    hollow = trimesh.boolean.difference(
        [rod(start, end, od / 2), rod(far_a, far_b, od / 2 - wall)], engine="manifold"
    )
    left = trimesh.boolean.difference(
        [hollow, *(rod(s, e, d / 2) for s, e, d in mains)], engine="manifold"
    )
    pieces = left.split(only_watertight=True)
    return max(pieces, key=lambda piece: piece.volume) if len(pieces) else left
