"""A cut: a part comes off a piece; part, kerf, scrap and rest are what there was."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.log.late import is_late
from fabshop.actions.shop import require, the_shop
from fabshop.actions.stock.hold import refuse_unknown_lot
from fabshop.actions.stock.joint_lot import follow
from fabshop.actions.stock.locked import (
    is_for_a_frame,
    locked_piece,
    piece_as_it_stands,
    refuse_gone,
)
from fabshop.actions.stock.piece import add_piece
from fabshop.actions.typed import number, one_line
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.reckoning.facts import PieceFact
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person, Shop
from fabshop.records.stock import Cut, CutMark, CutWish, Piece, Reservation
from fabshop.records.task import Task
from fabshop.units import show_length


def cut_of(entry: LogEntry) -> Cut:
    """The first answer of a cut that is told twice."""
    return Cut.objects.select_related("piece").get(pk=entry.before["cut"])


@once(words.EntryKind.CUT, first=cut_of)
def cut_piece(
    *,
    by: Person,
    piece: Piece,
    length_um: int,
    now: datetime,
    task: Task | None = None,
    wish: CutWish | None = None,
    mark: CutMark | None = None,
    kerf_um: int | None = None,
    across: bool = False,
    keep_as: str = "",
    rest: str = "",
    waive: str = "",
    made_apart: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Cut:
    """Cut a length off a piece, off a sheet's width where it is `across`.

    On line a cut that does not fit is refused; `made_apart` says that it was made
    where the record could not be seen, and is kept whatever the record says; so is
    what comes in late from a phone. A rest
    under the shop's bound asks: `rest` is scrap or keep. `keep_as` puts the part on
    the rack as a piece of its own, under that code. The kerf is the shop's.
    """
    require(by, "write")
    number(length_um, field="length", label="Length")
    if not length_um:
        raise BadInput("Length: 0 mm is no cut. Write how long.", field="length")
    # What a phone kept until now is cut already, whatever is said to it.
    made_apart = made_apart or (at is not None and is_late(at, now))
    piece = locked_piece(piece)
    if not made_apart:
        refuse_gone(piece)
    if across and not piece.is_flat:
        raise BadInput(f"{piece.code} is a {piece.form}: it has no width.")
    if mark is not None:
        wish, task = mark.wish, task or mark.wish.task
        _refuse_cut_twice(mark)
    elif wish is not None:
        task = task or wish.task
    stands = piece_as_it_stands(piece)
    for_frame = is_for_a_frame(task, wish)
    if not made_apart:
        refuse_unknown_lot(stands, for_frame, waive)
    elif for_frame and stands.lot_is_unknown and not waive:
        waive = "cut apart, before the record could say so"
    before = stands.wide_um if across else stands.left_um
    shop = the_shop() or Shop()
    kerf = _kerf(shop, kerf_um, before - length_um)
    if not made_apart:
        _refuse_too_short(piece, before, length_um, kerf)
        _refuse_held(stands, length_um + kerf, task, mark, across)
    left = before - length_um - kerf
    scrap = 0
    if 0 < left < shop.scrap_under_um and not across:
        scrap = left if _is_scrap(piece, left, rest, shop, made_apart) else 0
    made = None
    if keep_as:
        made = _kept_as(piece, stands, keep_as, length_um, across, by, now, at)
    client_id = client_id or new_client_id()
    cut = Cut.objects.create(
        piece=piece,
        along=words.CutAlong.WIDTH if across else words.CutAlong.LENGTH,
        before=before,
        part=length_um,
        kerf=kerf,
        scrap=scrap,
        left=left - scrap,
        made=made,
        task=task,
        wish=wish,
        mark=mark,
        reservation=_held_by(piece, task),
        is_frame=for_frame,
        heat_lot=piece.heat_lot if piece.has_heat else piece.heat_lot or "none",
        waived_why=one_line(waive, field="waive", label="Reason", most=160),
        is_made_apart=made_apart,
        person=by,
        at=at or now,
        client_id=client_id,
    )
    undo: dict[str, object] = {"cut": cut.pk}
    if not piece.is_drop:
        # What a cut leaves over is a drop, and the rack shows drops first.
        piece.is_drop = True
        piece.save(update_fields=["is_drop"])
        undo["was_whole"] = piece.pk
    if made is not None:
        undo["added"] = made.pk
    if followed := follow(cut):
        undo["joint_lots"] = followed
    write_entry(
        kind=words.EntryKind.CUT,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=_words(cut, mark),
        before=undo,
    )
    return cut


def _kerf(shop: Shop, said: int | None, room: int) -> int:
    """The saw's kerf; none where the piece is just as long as what is wanted."""
    if said is not None:
        return number(said, field="kerf", label="Kerf")
    return 0 if room == 0 else shop.kerf_um


def _refuse_too_short(piece: Piece, before: int, length_um: int, kerf: int) -> None:
    over = length_um + kerf - before
    if over > 0:
        now_um = f"{piece.code} is now {show_length(before)}"
        raise Clash(
            f"{now_um}: short by {show_length(over)}"
            f"{f' with a kerf of {show_length(kerf)}' if kerf else ''}. "
            "Take another piece; if the cut is made already, book it as made.",
            field="length",
            code="too-short",
        )


def _refuse_held(
    piece: PieceFact,
    taken_um: int,
    task: Task | None,
    mark: CutMark | None,
    across: bool,
) -> None:
    """What other tasks hold stays; those that one list serves share what they hold."""
    tasks = {task.code} if task is not None else set()
    if mark is not None:
        wishes = CutWish.objects.filter(marks__cut_list=mark.cut_list)
        tasks |= set(
            wishes.filter(task__isnull=False).values_list("task__code", flat=True)
        )
    others = [
        f"{code} {show_length(um)}" for code, um in piece.held if code not in tasks
    ]
    if others and (across or piece.free_for(*tasks) < taken_um):
        raise Clash(
            f"{piece.id}: held for {', '.join(others)}; "
            f"{show_length(max(0, piece.free_for(*tasks)))} is free. "
            "Let it go first, or take another.",
            field="length",
            code="is-held",
        )


def _refuse_cut_twice(mark: CutMark) -> None:
    done = Cut.objects.filter(mark=mark, is_taken_back=False).first()
    if done is not None:
        raise Clash(f"{mark.mark} is cut already, by {done.person}.", code="is-cut")


def _is_scrap(piece: Piece, left: int, rest: str, shop: Shop, made_apart: bool) -> bool:
    if rest in ("scrap", "keep"):
        return rest == "scrap"
    if made_apart:
        return False
    raise NeedsAnswer(
        f"That leaves {show_length(left)} of {piece.code}, less than "
        f"{show_length(shop.scrap_under_um)}. Scrap, or keep it?",
        field="rest",
        code="scrap-or-keep",
    )


def _kept_as(
    piece: Piece,
    stands: PieceFact,
    code: str,
    length_um: int,
    across: bool,
    by: Person,
    now: datetime,
    at: datetime | None,
) -> Piece:
    """The part as a piece of its own: what it is a drop of, its lot and its section."""
    return add_piece(
        by=by,
        code=code,
        form=piece.form,
        material=piece.material,
        length_um=max(1, stands.left_um) if across else length_um,
        od_um=piece.od_um,
        wall_um=piece.wall_um,
        thickness_um=piece.thickness_um,
        width_um=length_um if across else (stands.wide_um or None),
        heat_lot=piece.heat_lot,
        place=piece.place,
        drop_of=piece,
        grain=piece.grain,
        now=now,
        at=at,
    )


def _held_by(piece: Piece, task: Task | None) -> Reservation | None:
    if task is None:
        return None
    return piece.reservations.filter(task=task, released_at=None).first()


def _words(cut: Cut, mark: CutMark | None) -> str:
    what = f"{mark.mark} " if mark else ""
    said = f"{what}{show_length(cut.part)} cut from {cut.piece.code}"
    if cut.scrap:
        said += f", {show_length(cut.scrap)} scrap"
    if cut.left < 0:
        said += f"; it reads {show_length(cut.left)} now: measure it"
    else:
        said += f", {show_length(cut.left)} left"
    if cut.waived_why:
        said += f"; heat lot unknown: {cut.waived_why}"
    return said
