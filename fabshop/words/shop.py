"""Words for the people of the shop."""

from __future__ import annotations

from fabshop.words.word import Word, labelled


class Role(Word):
    OWNER = "owner"
    HELPER = "helper"
    VIEWER = "viewer"


labelled(
    (Role.OWNER, "owner"),
)
