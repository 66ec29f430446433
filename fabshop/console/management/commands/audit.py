"""Names the contradictions in the records; exit status 1 where there are any."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandError

from fabshop.console.audit import CHECKS, contradictions
from fabshop.console.shop_command import ShopCommand


class Command(ShopCommand):
    help = "Look for contradictions in the records and name them, one a line."

    def handle(self, *args: Any, **options: Any) -> None:
        found = contradictions()
        for one in found:
            self.stdout.write(str(one))
        if found:
            many = "contradictions" if len(found) > 1 else "contradiction"
            raise CommandError(f"{len(found)} {many}.", returncode=1)
        self.stdout.write(f"No contradictions; {len(CHECKS)} kinds looked for.")
