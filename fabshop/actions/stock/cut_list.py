"""Asks what to cut from which piece, and keeps the answer as a list with its marks."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Max

from fabshop import words, worker
from fabshop.actions.log import once, write_entry
from fabshop.actions.shop import require, the_shop
from fabshop.errors import Clash
from fabshop.reckoning.blank_groups import BlankGroup, blank_groups, laid_out
from fabshop.reckoning.cut_groups import Group, groups, told, without
from fabshop.reckoning.facts import PieceFact, WishFact
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person, Shop
from fabshop.records.stock import CutList, CutMark, CutWish, Piece
from fabshop.snapshot.stock import open_wishes, piece_facts

SOLVER_S = 4.0
GRACE_S = 15.0


def _list_of(entry: LogEntry) -> CutList:
    return CutList.objects.get(pk=entry.before["cut_list"])


@once(words.EntryKind.PLANNED, first=_list_of)
def _kept(
    *,
    by: Person,
    now: datetime,
    client_id: str | None,
    shop: Shop,
    answer: dict[str, Any],
    pieces: tuple[PieceFact, ...],
) -> CutList:
    last = CutList.objects.aggregate(last=Max("number"))["last"] or 0
    try:
        with transaction.atomic():
            made = CutList.objects.create(
                number=last + 1,
                kerf_um=shop.kerf_um,
                dressing_um=shop.dressing_um,
                keep_over_um=shop.scrap_under_um,
                answer=answer,
                person=by,
                made_at=now,
            )
    except IntegrityError:
        raise Clash("Another list was made this very moment; look at that.") from None
    piece_pks = dict(
        Piece.objects.filter(code__in=[piece.id for piece in pieces]).values_list(
            "code", "pk"
        )
    )
    wish_pks = dict(CutWish.objects.values_list("code", "pk"))
    CutMark.objects.bulk_create(
        CutMark(
            cut_list=made,
            piece_id=piece_pks[bar["piece"]],
            number=number,
            wish_id=wish_pks[cut["wish"]],
            mark=cut["mark"],
            part_um=cut["part_um"],
            kerf_um=cut["kerf_um"],
            left_um=cut["left_um"],
        )
        for group in answer["groups"]
        for bar in group["bars"]
        for number, cut in enumerate(bar["cuts"], start=1)
    )
    CutMark.objects.bulk_create(
        CutMark(
            cut_list=made,
            piece_id=piece_pks[sheet["piece"]],
            number=number,
            wish_id=wish_pks[blank["wish"]],
            mark=blank["mark"],
            part_um=round(blank["length"] * 1000),
            wide_um=round(blank["width"] * 1000),
            x_um=round(blank["x"] * 1000),
            y_um=round(blank["y"] * 1000),
            kerf_um=made.kerf_um,
            left_um=0,
        )
        for group in answer["sheet_groups"]
        for sheet in group["sheets"]
        for number, blank in enumerate(sheet["blanks"], start=1)
    )
    write_entry(
        kind=words.EntryKind.PLANNED,
        by=by,
        now=now,
        client_id=client_id,
        text=f"{made}: {made.marks.count()} cuts",
        before={"cut_list": made.pk},
    )
    return made


def ask_cut_list(*, by: Person, now: datetime, client_id: str | None = None) -> CutList:
    """Reckon a cut list for all that is still to be cut, and keep it.

    The solver runs outside the transaction, so that nobody's tap waits for it.
    """
    require(by, "write")
    wishes = open_wishes()
    if not wishes:
        raise Clash(
            "Nothing is to be cut. Say what is wanted first: a length, a section, "
            "how many.",
            code="nothing-wanted",
        )
    pieces = rack_for(wishes)
    shop = the_shop() or Shop()
    return _kept(
        by=by,
        now=now,
        client_id=client_id,
        shop=shop,
        answer={
            "groups": answered(groups(pieces, wishes), shop),
            "sheet_groups": sheets_answered(blank_groups(pieces, wishes), shop),
        },
        pieces=pieces,
    )


def rack_for(wishes: tuple[WishFact, ...]) -> tuple[PieceFact, ...]:
    """The pieces on the rack of the materials that are wanted."""
    materials = {wish.material for wish in wishes}
    return piece_facts(Piece.objects.on_the_rack().filter(material__code__in=materials))


def answered(asked: tuple[Group, ...], shop: Shop) -> list[dict[str, Any]]:
    """Every group answered in turn; a piece that one has opened is not the next's."""
    found: list[dict[str, Any]] = []
    opened: set[str] = set()
    named = {j for group in asked for wish in group.wishes for j in wish.joints}
    onto = Joint.objects.filter(code__in=named).values_list("code", "onto_heat_lot")
    onto_lots = dict(onto)
    for group in asked:
        group = without(group, opened)
        answer = worker.run(
            "fabshop.reckoning.ask",
            "reckon",
            "cutlist",
            group.question(
                kerf_um=shop.kerf_um,
                dressing_um=shop.dressing_um,
                keep_over_um=shop.scrap_under_um,
                time_limit_s=SOLVER_S,
            ),
            limit_s=SOLVER_S + GRACE_S,
        )
        opened |= {bar["stock"] for bar in answer["bars"]}
        found.append(
            told(
                group,
                answer,
                kerf_um=shop.kerf_um,
                dressing_um=shop.dressing_um,
                onto_lots=onto_lots,
            )
        )
    return found


def sheets_answered(asked: tuple[BlankGroup, ...], shop: Shop) -> list[dict[str, Any]]:
    """What is cut of sheets, one thickness after another."""
    found = []
    for group in asked:
        answer = worker.run(
            "fabshop.reckoning.ask",
            "reckon",
            "blanks",
            group.question(kerf_um=shop.kerf_um, time_limit_s=SOLVER_S),
            limit_s=SOLVER_S + GRACE_S,
        )
        found.append(laid_out(group, answer, kerf_um=shop.kerf_um))
    return found
