"""Writes every sheet that a build has, as PDF, into a folder."""

from __future__ import annotations

import socket
from argparse import ArgumentParser
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db.models import Q

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.actions.shop import refuse_unprepared
from fabshop.actions.stock import ask_cut_list
from fabshop.clock import now
from fabshop.errors import NotAllowed, ShopError
from fabshop.paper.frame_joint import copes_of_build
from fabshop.paper.joint import travelers_of
from fabshop.paper.order import receiving_slip
from fabshop.paper.pit import repair_card
from fabshop.paper.plan import teardown_sheet
from fabshop.paper.plan_pull import pull_list
from fabshop.paper.sheet import APRON, PAPERS, Sheet
from fabshop.paper.shelf import bag_labels
from fabshop.paper.shop import wall_sheet
from fabshop.paper.stock import cut_sheet
from fabshop.records.build import Build
from fabshop.records.order import Order
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from fabshop.records.stock import CutList, CutWish
from fabshop.words import Move, Role


class Command(BaseCommand):
    help = "Write every sheet of a build as PDF; plans its teardown if none was."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--build", required=True, metavar="SLUG")
        parser.add_argument("--to", required=True, metavar="DIR")
        parser.add_argument("--paper", choices=PAPERS, default="a4")
        parser.add_argument(
            "--apron",
            action="store_true",
            help="Also the teardown sheet two pages up, to be folded to A5.",
        )
        parser.add_argument(
            "--base-url",
            help="What the QR codes lead to; this machine on the network, port 8000, "
            "where nothing is said.",
        )

    def handle(
        self,
        *args: Any,
        build: str,
        to: str,
        paper: str,
        apron: bool,
        base_url: str | None,
        **options: Any,
    ) -> None:
        try:
            refuse_unprepared()
        except ShopError as refusal:
            raise CommandError(refusal.message) from refusal
        found = Build.objects.filter(slug=build).first()
        if found is None:
            names = ", ".join(Build.objects.values_list("slug", flat=True))
            raise CommandError(f"No build {build!r}. There are: {names or 'none yet'}.")
        address = base_url or f"http://{_here()}:8000"
        try:
            folder = Path(to)
            folder.mkdir(parents=True, exist_ok=True)
            for sheet in self._sheets(found):
                file = folder / f"{sheet.filename}.pdf"
                file.write_bytes(sheet.pdf(base_url=address, paper=paper))
                self.stdout.write(str(file))
                if apron and sheet.name == "teardown":
                    file = folder / f"{sheet.filename}-apron.pdf"
                    two_up = sheet.pdf(base_url=address, paper=f"{APRON}{paper}")
                    file.write_bytes(two_up)
                    self.stdout.write(str(file))
        except ShopError as refusal:
            raise CommandError(refusal.message) from refusal
        except OSError as fault:
            raise CommandError(
                f"{to} cannot be written ({fault.strerror}). Choose another --to."
            ) from fault

    def _sheets(self, build: Build) -> Iterator[Sheet]:
        """Every sheet of the build; what has no teardown to plan has the others."""
        try:
            plan = _accepted_plan(build)
        except ShopError as refusal:
            self.stderr.write(f"No teardown sheet: {refusal.message}")
        else:
            yield teardown_sheet(plan.pk)
            yield pull_list(plan.pk)
            yield bag_labels(plan.pk)
        yield replace(wall_sheet(), filename=f"{build.slug}-wall")
        yield repair_card(build.slug)
        yield from travelers_of(build)
        if (copes := copes_of_build(build.slug)) is not None:
            yield copes
        if (cuts := _cut_list_of(build)) is not None:
            yield replace(cuts, filename=f"{build.slug}-{cuts.filename}")
        coming = Order.objects.filter(given_up_at=None).exclude(move=Move.DONE)
        its = Q(build=build) | Q(lines__needed_by__task__build=build)
        for order in coming.filter(its).distinct():
            slip = receiving_slip(order.code)
            yield replace(slip, filename=f"{build.slug}-{slip.filename}")


def _accepted_plan(build: Build) -> Plan:
    """The plan that holds; where none does, the default one, asked and accepted."""
    plan = Plan.objects.accepted().filter(build=build, kind="teardown").first()
    if plan is not None:
        return plan
    owner = Person.objects.filter(role=Role.OWNER, is_active=True).first()
    if owner is None:
        raise NotAllowed("The shop has no owner yet: start it once with serve.")
    proposed = ask_teardown(by=owner, build=build, now=now())
    return accept_plan(by=owner, plan=proposed, now=now())


def _cut_list_of(build: Build) -> Sheet | None:
    """The cut list that holds, made if there is none; None where nothing is wanted."""
    wanted = CutWish.objects.filter(given_up_at=None, task__build=build)
    if not wanted.exists():
        return None
    last = CutList.objects.first()
    if last is None:
        owner = Person.objects.filter(role=Role.OWNER, is_active=True).first()
        if owner is None:
            return None
        last = ask_cut_list(by=owner, now=now())
    return cut_sheet(last.number)


def _here() -> str:
    """This machine's address on its network; a phone cannot follow 127.0.0.1."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: the system only says from which address it would be.
            probe.connect(("10.255.255.255", 1))
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"
