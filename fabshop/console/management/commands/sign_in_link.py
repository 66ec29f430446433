"""Prints a link that signs one person in once."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.urls import reverse

from fabshop.actions.shop import make_sign_in_link
from fabshop.clock import now
from fabshop.console.shop_command import ShopCommand
from fabshop.console.who import person_named


class Command(ShopCommand):
    help = "Print one line: an address that signs NAME in once, within a day."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")
        parser.add_argument(
            "--base-url",
            default="http://127.0.0.1:8000",
            help="What the phone reaches the shop by.",
        )

    def handle(self, *args: Any, name: str, base_url: str, **options: Any) -> None:
        token = make_sign_in_link(person=person_named(name), now=now())
        path = reverse("sign-in-link", args=[token])
        self.stdout.write(f"{base_url.rstrip('/')}{path}")
