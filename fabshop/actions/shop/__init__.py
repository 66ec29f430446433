"""The shop itself: who may do what, people and how they sign in, hours and days."""

# `allowed` stands first: the log reads `require` from here while the rooms of this
# package, which write to the log, are still being imported.
from fabshop.actions.shop.allowed import require, the_shop
from fabshop.actions.shop.door import (
    make_api_token,
    make_sign_in_link,
    use_sign_in_link,
)
from fabshop.actions.shop.found import (
    add_machine,
    change_shop,
    make_owner,
    make_shop,
    refuse_unprepared,
)
from fabshop.actions.shop.hours import (
    add_window,
    remove_window,
    set_day,
    set_weekly_hours,
)
from fabshop.actions.shop.people import (
    add_person,
    bring_back_person,
    retire_person,
    set_password,
)

__all__ = [
    "add_machine",
    "add_person",
    "add_window",
    "bring_back_person",
    "change_shop",
    "make_api_token",
    "make_owner",
    "make_shop",
    "make_sign_in_link",
    "refuse_unprepared",
    "remove_window",
    "require",
    "retire_person",
    "set_day",
    "set_password",
    "set_weekly_hours",
    "the_shop",
    "use_sign_in_link",
]
