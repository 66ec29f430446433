"""Prints the API token of one person."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from fabshop.actions.shop import make_api_token
from fabshop.console.shop_command import ShopCommand
from fabshop.console.who import person_named


class Command(ShopCommand):
    help = "Print one line: the token with which a script acts as NAME."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")

    def handle(self, *args: Any, name: str, **options: Any) -> None:
        self.stdout.write(make_api_token(person=person_named(name)))
