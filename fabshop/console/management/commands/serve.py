"""Starts the shop: database, demo, static files, a sign-in link, the server."""

from __future__ import annotations

import hashlib
import socket
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

import waitress
from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.core.wsgi import get_wsgi_application
from django.db import OperationalError
from django.urls import reverse

from fabshop import prepare
from fabshop.actions.shop import make_owner, make_sign_in_link
from fabshop.clock import now
from fabshop.console.qr import drawn
from fabshop.records.shop import Person, Shop
from fabshop.words import Role

# Parts of the packages that no page of ours uses.
_NOT_SERVED = ("rest_framework",)


class Command(BaseCommand):
    help = "Start the shop and print its address for the phone."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--demo", action="store_true", help="Load the demo shop.")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--host", default="0.0.0.0")

    def handle(
        self, *args: Any, demo: bool, port: int, host: str, **options: Any
    ) -> None:
        _must_be_free(host, port, " --demo" * demo)
        prepare.pango()
        _migrate()
        if demo:
            self._load_demo()
        _collect_static()
        owner = Person.objects.filter(role=Role.OWNER, is_active=True).first()
        if owner is None:
            owner = make_owner(name="owner", now=now())
        token = make_sign_in_link(person=owner, now=now())
        here = _address(host, port)
        link = here + reverse("sign-in-link", args=[token])
        self.stdout.write(f"\nThe shop is open at {here}/\n")
        self.stdout.write(f"Sign {owner.name} in on a phone by scanning this, once:\n")
        self.stdout.write(f"{drawn(link)}\n{link}\n\nStop with Ctrl-C.\n")
        sys.stdout.flush()
        # Not before now: the application lists its static files as it is made.
        waitress.serve(
            get_wsgi_application(),
            host=host,
            port=port,
            threads=8,
            ident="fabshop",
            _quiet=True,
            **_proxy(),
        )

    def _load_demo(self) -> None:
        shop = Shop.objects.first()
        if shop is None and not Person.objects.exists():
            call_command("load_demo", stdout=self.stdout)
        elif shop is None or not shop.is_demo:
            self.stdout.write(
                "This shop is in use, so the demo is not loaded into it. For the demo "
                "beside it: FABSHOP_DATA=.data/demo python3 manage.py serve --demo"
            )


def _must_be_free(host: str, port: int, demo: str) -> None:
    fault = _why_not(host, port)
    if fault is None:
        return
    again = f"python3 manage.py serve{demo}"
    if not 0 < port < 65_536:
        raise CommandError(f"There is no port {port}. Try: {again} --port 8000")
    nearby = (other for other in range(port + 1, min(port + 50, 65_536)))
    free = next((other for other in nearby if not _why_not(host, other)), None)
    if free is None:
        raise CommandError(
            f"The address {host} cannot be used here ({fault}). Try: {again}"
        )
    raise CommandError(
        f"Port {port} on {host} cannot be used ({fault}). "
        f"Another is free: {again} --port {free}"
    )


def _why_not(host: str, port: int) -> str | None:
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except (OSError, OverflowError) as fault:
            return getattr(fault, "strerror", None) or str(fault)
    return None


def _migrate() -> None:
    try:
        call_command("migrate", verbosity=0, interactive=False)
    except OperationalError as fault:
        raise CommandError(
            f"The database does not open ({str(fault).splitlines()[0].strip()}). Look "
            "at DATABASE_URL and whether its server runs, then start again; without "
            "DATABASE_URL the shop is kept in a file: env -u DATABASE_URL python3 "
            "manage.py serve"
        ) from None


def _address(host: str, port: int) -> str:
    """What a phone reaches this by."""
    if settings.HTTPS and settings.ALLOWED_HOSTS[0] != "*":
        return f"https://{settings.ALLOWED_HOSTS[0]}"
    shown = _lan_address() if host in ("0.0.0.0", "::") else host
    return f"http://[{shown}]:{port}" if ":" in shown else f"http://{shown}:{port}"


def _lan_address() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: the system only says from which address it would be.
            probe.connect(("10.255.255.255", 1))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _proxy() -> dict[str, Any]:
    """Whose word is taken for the true scheme and address of who asks."""
    if not settings.HTTPS:
        return {}
    return {
        "trusted_proxy": settings.PROXY,
        "trusted_proxy_headers": {"x-forwarded-proto", "x-forwarded-for"},
    }


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
