"""A tube is told by its section and the nodes that it passes."""

from fabshop.reckoning.frame import BendFact, FrameFacts, TubeFact


def test_a_tube_says_its_section_and_its_nodes() -> None:
    hoop = TubeFact("H", "A", "B", 8, 0.9, bends=(BendFact("K", 40), BendFact("L", 40)))
    assert hoop.section == "8×0.9"
    assert hoop.nodes == ("A", "K", "L", "B")
    assert FrameFacts({}, (hoop,)).tube_by_mark == {"H": hoop}
