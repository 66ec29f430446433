"""A small frame to print templates of."""

from __future__ import annotations

from tests.factories import (
    BuildFactory,
    FrameFactory,
    NodeFactory,
    TubeEndFactory,
    TubeFactory,
)


def a_frame() -> str:
    """A rail, a post square on it and a brace between, of one small frame."""
    frame = FrameFactory(build=BuildFactory(slug="wren", name="Wren"), code="cradle")
    at = {
        "A": (0, 0, 0),
        "B": (200, 0, 0),
        "C": (40, 0, 0),
        "D": (40, 0, 90),
        "E": (140, 0, 0),
        "F": (40, 0, 60),
    }
    node = {
        code: NodeFactory(frame=frame, code=code, x_um=x * 1000, z_um=z * 1000)
        for code, (x, _, z) in at.items()
    }
    made = {
        mark: TubeFactory(frame=frame, mark=mark, start=node[s], end=node[e])
        for mark, s, e in (("rail", "A", "B"), ("post", "C", "D"), ("brace", "E", "F"))
    }
    TubeEndFactory(tube=made["post"], which=1, kind="coped", onto=made["rail"])
    TubeEndFactory(tube=made["brace"], which=1, kind="coped", onto=made["rail"])
    TubeEndFactory(
        tube=made["brace"], which=2, kind="coped", onto=made["post"], joint="J02"
    )
    return str(frame.code)
