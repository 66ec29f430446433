"""Loads the demo shop into an empty database."""

from __future__ import annotations

from argparse import ArgumentParser
from datetime import date
from typing import Any

from django.core.management.base import CommandError

from fabshop.clock import now
from fabshop.console.demo import load_demo
from fabshop.console.shop_command import ShopCommand
from fabshop.errors import ShopError
from fabshop.records.build import Build, Component
from fabshop.records.order import Order
from fabshop.records.task import Task


class Command(ShopCommand):
    help = (
        "Load the demo shop into an empty one, its dates moved so that the story "
        "begins today at 06:45."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--as-of",
            type=date.fromisoformat,
            metavar="DAY",
            help="The day on which the story begins; 2027-09-03 keeps its own dates.",
        )

    def handle(self, *args: Any, as_of: date | None, **options: Any) -> None:
        try:
            shop = load_demo(now=now(), as_of=as_of)
        except ShopError as error:
            raise CommandError(error.message) from error
        self.stdout.write(
            f"{shop.name} is loaded: {Build.objects.count()} builds, "
            f"{Component.objects.count()} components, {Task.objects.count()} tasks, "
            f"{Order.objects.count()} orders."
        )
