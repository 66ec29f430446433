"""Every kind of table names its columns once, and needs only those it has."""

from fabshop.actions.intake import KINDS


def test_each_kind_needs_columns_that_it_has():
    for kind in KINDS.values():
        assert set(kind.needed) <= set(kind.names)
        assert kind.key in kind.needed
        assert len(set(kind.names)) == len(kind.names)


def test_the_kinds_are_those_a_shop_begins_with():
    beginning = ["builds", "components", "tasks", "suppliers", "orders"]
    assert list(KINDS)[:5] == beginning
    assert {"nodes", "tubes", "pieces"} <= set(KINDS)
