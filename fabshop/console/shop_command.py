"""A command about a shop that is set up already; else it says how to do that."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from fabshop.actions.shop import refuse_unprepared
from fabshop.errors import ShopError


class ShopCommand(BaseCommand):
    """What there is to read or write is looked for before the command begins."""

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            refuse_unprepared()
        except ShopError as refusal:
            raise CommandError(refusal.message) from refusal
        return super().execute(*args, **options)
