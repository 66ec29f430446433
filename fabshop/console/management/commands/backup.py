"""Writes a consistent copy of records and photos while the server runs."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError

from fabshop.actions.backup import write_backup
from fabshop.clock import now
from fabshop.console.shop_command import ShopCommand


class Command(ShopCommand):
    help = "Write the whole shop, photos too, to FILE."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        try:
            counts = write_backup(to=file, now=now())
        except OSError as fault:
            raise CommandError(
                f"{file} cannot be written ({fault.strerror}). Choose another place."
            ) from fault
        self.stdout.write(
            f"{file}: {counts['records']} records and {counts['photos']} photo files."
        )
