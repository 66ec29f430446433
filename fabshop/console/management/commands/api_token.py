"""Prints the API token of one person."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from fabshop.actions.shop import make_api_token
from fabshop.console.who import person_named


class Command(BaseCommand):
    help = "Print one line: the token with which a script acts as NAME."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")

    def handle(self, *args: Any, name: str, **options: Any) -> None:
        self.stdout.write(make_api_token(person=person_named(name)))
