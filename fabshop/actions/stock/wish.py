"""What is wanted cut: lengths for joints and tasks, rectangles of sheet."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shop import require
from fabshop.actions.stock.material import material_called
from fabshop.actions.stock.piece import measured
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import CutWish, Material
from fabshop.records.task import Task
from fabshop.units import show_length, show_sizes

MOST_ALIKE = 500


def _wish_of(entry: LogEntry) -> CutWish:
    return CutWish.objects.select_related("material").get(pk=entry.before["wish"])


@once(words.EntryKind.CHANGED, first=_wish_of)
def add_wish(
    *,
    by: Person,
    code: str,
    title: str,
    material: Material | str,
    form: words.PieceForm | str,
    length_um: int,
    now: datetime,
    quantity: int = 1,
    od_um: int | None = None,
    wall_um: int | None = None,
    thickness_um: int | None = None,
    width_um: int | None = None,
    joints: str = "",
    task: Task | None = None,
    is_frame: bool = False,
    grain: words.Grain | str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> CutWish:
    """Want a length, or a rectangle, so many times; finished, without its dressing."""
    require(by, "write")
    code = fit_code(code)
    measures = measured(
        form,
        length_um=length_um,
        od_um=od_um,
        wall_um=wall_um,
        thickness_um=thickness_um,
        width_um=width_um,
    )
    if not 1 <= quantity <= MOST_ALIKE:
        raise BadInput(
            f"How many: {quantity} cannot be; 1 to {MOST_ALIKE}.", field="quantity"
        )
    flat = form in (words.PieceForm.SHEET, words.PieceForm.ROLL)
    if grain not in list(words.Grain) or (grain and not flat):
        raise BadInput(f"Grain: “{grain}” cannot be.", field="grain")
    if isinstance(material, str):
        material = material_called(material)
    try:
        with transaction.atomic():
            wish = CutWish.objects.create(
                code=code,
                title=some_line(title, field="title", label="What for", most=120),
                joints=one_line(joints, field="joints", label="Joints", most=120),
                task=task,
                material=material,
                form=form,
                quantity=quantity,
                is_frame=is_frame,
                grain=grain,
                made_at=now,
                **measures,
            )
    except IntegrityError:
        raise Clash(
            f"There is or was a length {code} already; codes are not used again.",
            field="code",
        ) from None
    size = show_length(length_um)
    if width_um:
        size = show_sizes(length_um, width_um)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"To be cut: {quantity} × {size}, {wish}",
        before={"wish": wish.pk},
    )
    return wish


@once(words.EntryKind.CHANGED, first=_wish_of)
def give_up_wish(
    *,
    by: Person,
    wish: CutWish,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> CutWish:
    """Nobody wants it cut any more; what was cut for it stays cut."""
    require(by, "write")
    wish = CutWish.objects.select_for_update(no_key=True, of=("self",)).get(pk=wish.pk)
    if wish.given_up_at is None:
        wish.given_up_at = at or now
        wish.save(update_fields=["given_up_at"])
        write_entry(
            kind=words.EntryKind.CHANGED,
            by=by,
            now=now,
            at=at,
            client_id=client_id,
            text=f"Not to be cut any more: {wish}",
            before={"wish": wish.pk},
        )
    return wish
