"""Puts a backup back into an empty shop."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from fabshop.actions.backup import read_backup
from fabshop.errors import ShopError


class Command(BaseCommand):
    help = "Put FILE, written by backup, into a shop that holds nothing."
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        call_command("migrate", verbosity=0, interactive=False)
        try:
            counts = read_backup(file=file)
        except ShopError as refusal:
            raise CommandError(refusal.message) from refusal
        self.stdout.write(
            f"Put back: {counts['records']} records and {counts['photos']} photo files."
        )
