"""Starts the shop: database, demo, static files, a sign-in link, the server."""

from __future__ import annotations

import hashlib
import socket
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

import segno
import waitress
from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.urls import reverse

from fabshop import prepare
from fabshop.actions.shop import make_owner, make_sign_in_link
from fabshop.clock import now
from fabshop.records.shop import Person, Shop
from fabshop.words import Role
from fabshop.wsgi import application

# Parts of the packages that no page of ours uses.
_NOT_SERVED = ("rest_framework",)


class Command(BaseCommand):
    help = "Start the shop and print its address for the phone."
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--demo", action="store_true", help="Load the demo shop.")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--host", default="0.0.0.0")

    def handle(
        self, *args: Any, demo: bool, port: int, host: str, **options: Any
    ) -> None:
        _free(host, port)
        prepare.pango()
        call_command("migrate", verbosity=0, interactive=False)
        _collect_static()
        if demo and not Shop.objects.exists() and not Person.objects.exists():
            call_command("load_demo", stdout=self.stdout)
        owner = Person.objects.filter(role=Role.OWNER, is_active=True).first()
        if owner is None:
            owner = make_owner(name="owner", now=now())
        here = f"http://{_lan_address(host)}:{port}"
        token = make_sign_in_link(person=owner, now=now())
        link = here + reverse("sign-in-link", args=[token])
        self.stdout.write(f"\nThe shop is open at {here}/\n")
        self.stdout.write(f"Sign {owner.name} in on a phone by scanning this, once:\n")
        segno.make(link, error="l").terminal(
            out=self.stdout, border=2, compact=bool(self.stdout.isatty())
        )
        self.stdout.write(f"{link}\n\nStop with Ctrl-C.\n")
        sys.stdout.flush()
        waitress.serve(
            application, host=host, port=port, threads=8, ident="fabshop", _quiet=True
        )


def _free(host: str, port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as fault:
            raise CommandError(
                f"Port {port} on {host} cannot be used ({fault.strerror}). Try "
                f"another: python3 manage.py serve --port {port % 65_000 + 1}"
            ) from None
        except OverflowError:
            raise CommandError(
                f"There is no port {port}. Try: python3 manage.py serve --port 8000"
            ) from None


def _lan_address(host: str) -> str:
    if host not in ("0.0.0.0", "::"):
        return host
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: the system only says from which address it would be.
            probe.connect(("10.255.255.255", 1))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _collect_static() -> None:
    """Hash and compress the static files when any of them has changed."""
    seen = hashlib.sha256(settings.VERSION.encode())
    for finder in get_finders():
        for path, storage in finder.list([*_NOT_SERVED]):
            there = Path(storage.path(path)).stat()
            seen.update(f"{path} {there.st_size} {there.st_mtime_ns}\n".encode())
    mark = Path(settings.STATIC_ROOT) / "collected"
    if mark.exists() and mark.read_text() == seen.hexdigest():
        return
    call_command(
        "collectstatic",
        interactive=False,
        clear=True,
        verbosity=0,
        ignore_patterns=[*_NOT_SERVED],
    )
    mark.write_text(seen.hexdigest())
