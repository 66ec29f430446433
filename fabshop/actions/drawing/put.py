"""A drawing put on an order line: judged by its content, kept as it came."""

from __future__ import annotations

import os
import re
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

from django.conf import settings

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.order.locked import locked_order
from fabshop.actions.order.owed import line_name
from fabshop.actions.shop import require
from fabshop.actions.typed import number, one_line
from fabshop.errors import BadInput, Clash, ShopError, TookTooLong, TooLarge
from fabshop.records.drawing import Drawing
from fabshop.records.log import LogEntry
from fabshop.records.order import OrderLine
from fabshop.records.shop import Person
from fabshop.records.stock import Material
from fabshop.worker import WorkerEnded, run_small

MOST_BYTES = 20 * 1024 * 1024
LIMIT_S = 15.0
# How a DXF begins, as text or as what we can say a sentence about.
_DXF = re.compile(
    rb"\s*(999\s*\r?\n[^\n]*\n\s*)*0\s*\r?\nSECTION\s*\r?\n|AutoCAD Binary"
)
# A metre thick is no sheet.
MOST_THICKNESS_UM = 1_000_000


def _drawing_of(entry: LogEntry) -> Drawing:
    drawing = Drawing.objects.filter(pk=entry.before["drawing"]).first()
    if drawing is None:
        raise Clash("That drawing was taken back. Put it there anew.")
    return drawing


def undo_drawing(entry: LogEntry, by: Person, now: datetime) -> None:
    """Off its line again while nobody holds it; the lines of the log stay."""
    drawing = Drawing.objects.get(pk=entry.before["drawing"])
    if drawing.sendings.exists():
        raise Clash("That drawing was sent since; what they hold is not taken back.")
    drawing.delete()


def put_drawing(
    *,
    by: Person,
    line: OrderLine,
    content: bytes,
    file_name: str,
    now: datetime,
    revision: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Drawing:
    """Put a drawing on a line as its newest revision.

    Only a DXF is read, whatever the name says, and in a process of its own; another
    file is kept as a file. A revision letter is of one file: the same letter again
    with another is refused, the same file again is the drawing that is there.
    """
    require(by, "own")
    if not content:
        raise BadInput("The file is empty: nothing arrived of it.", field="file")
    if len(content) > MOST_BYTES:
        raise TooLarge(
            f"The file has {len(content) / 1048576:.1f} MB; at most "
            f"{MOST_BYTES // 1048576} MB are taken.",
            field="file",
        )
    # Read and written outside the transaction: both take their time.
    read = _read(content)
    digest = sha256(content).hexdigest()
    kept = f"drawings/{digest[:2]}/{digest}.{'dxf' if read else 'bin'}"
    _write(kept, content)
    return _put(
        by=by,
        line=line,
        fields={
            "file_name": clean_name(file_name),
            "file": kept,
            "digest": digest,
            "size_bytes": len(content),
            "read": read,
        },
        revision=one_line(revision, field="revision", label="Revision", most=12),
        now=now,
        at=at,
        client_id=client_id,
    )


@once(words.EntryKind.DRAWN, first=_drawing_of)
def _put(
    *,
    by: Person,
    line: OrderLine,
    fields: dict[str, Any],
    revision: str,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
) -> Drawing:
    order = locked_order(line.order)
    if order.given_up_at is not None:
        raise Clash(f"{order} was given up.", code="is-given-up")
    before = list(line.drawings.order_by("at", "id"))
    same = [one for one in before if one.digest == fields["digest"]]
    if same and same[-1] is before[-1] and revision in ("", same[-1].revision):
        return same[-1]
    revision = revision or next_revision([one.revision for one in before])
    if any(one.revision == revision for one in before):
        raise Clash(
            f"Revision {revision} of {line_name(line)} is another file already. Give "
            f"this one a letter of its own, like {next_revision([revision])}.",
            field="revision",
            code="revision-taken",
        )
    drawing = Drawing.objects.create(
        line=line,
        revision=revision,
        hand=line.hand,
        person=by,
        at=at or now,
        client_id=client_id or new_client_id(),
        **fields,
    )
    noted: Before = {"drawing": drawing.pk}
    # What the order's file is called on lists, and which revision stands here.
    move(order, noted, file_name=drawing.file_name, file_revision=revision)
    write_entry(
        kind=words.EntryKind.DRAWN,
        by=by,
        now=now,
        at=at,
        client_id=drawing.client_id,
        order=order,
        text=f"{line_name(line)}: {drawing}",
        before=noted,
    )
    return drawing


@once(words.EntryKind.CHANGED, first=lambda entry: entry)
def describe_line(
    *,
    by: Person,
    line: OrderLine,
    now: datetime,
    material: Material | None = None,
    thickness_um: int | None = None,
    finish: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> LogEntry:
    """Say what a line is cut of: its mass and its holes are judged by that."""
    require(by, "own")
    order = locked_order(line.order)
    if thickness_um is not None:
        number(
            thickness_um,
            field="thickness",
            label="Thickness in µm",
            most=MOST_THICKNESS_UM,
        )
        if not thickness_um:
            raise BadInput(
                "Thickness: 0 mm is no sheet. Leave it empty where it is unknown.",
                field="thickness",
            )
    line.material, line.thickness_um = material, thickness_um
    line.finish = one_line(finish, field="finish", label="Finish", most=80)
    line.save(update_fields=["material", "thickness_um", "finish"])
    move(order, {})
    said = [
        f"{thickness_um / 1000:g} mm" if thickness_um else "",
        str(material or ""),
        line.finish,
    ]
    return write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text=f"{line_name(line)}: " + (", ".join(filter(None, said)) or "unknown"),
    )


def clean_name(name: str) -> str:
    """The last part of a path, with nothing in it that a disk or a page minds."""
    last = re.split(r"[\\/]", name)[-1]
    plain = re.sub(r"[^\w .()+-]", "_", last).strip(" .")
    stem, dot, ending = plain.rpartition(".")
    if not plain:
        return "drawing"
    return f"{stem[:140]}{dot}{ending[:12]}" if dot else plain[:150]


def next_revision(taken: list[str]) -> str:
    """A where there is none, else the letter after the last: A, B, … Z, AA."""
    known = [one for one in taken if re.fullmatch(r"[A-Z]{1,3}", one)]
    if not known:
        return "A" if not taken else f"{taken[-1][:10]}+"
    last = max(known, key=lambda one: (len(one), one))
    head = last.rstrip("Z")
    if not head:
        return "A" * (len(last) + 1)
    return head[:-1] + chr(ord(head[-1]) + 1) + "A" * (len(last) - len(head))


def _read(content: bytes) -> dict[str, Any] | None:
    """What a DXF holds; None for another file. A hostile one ends in a sentence."""
    if not _DXF.match(content[:4096]):
        return None
    try:
        read: dict[str, Any] = run_small(
            "fabshop.reckoning.drawing.read", "read", content, limit_s=LIMIT_S
        )
    except (WorkerEnded, TookTooLong) as fault:
        if isinstance(fault, TookTooLong) and "Others" in fault.message:
            raise
        raise TooLarge(
            "Reading this drawing takes more time or memory than a part can need. Send "
            "the part alone, without blocks and splines.",
            field="file",
        ) from None
    except ShopError as refusal:
        refusal.field = refusal.field or "file"
        raise
    return read


def _write(name: str, content: bytes) -> None:
    """Write a file whole or not at all; named by content, it may stand already."""
    path = Path(settings.MEDIA_ROOT) / name
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, delete=False) as temporary:
        temporary.write(content)
    os.chmod(temporary.name, 0o644)
    os.replace(temporary.name, path)
