"""A frame of a build: begun, named, and the axis across which its twins lie."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.build.change import refuse_closed
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import code as typed_code
from fabshop.actions.typed import some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Build
from fabshop.records.frame import Frame
from fabshop.records.shop import Person


@transaction.atomic
def add_frame(
    *,
    by: Person,
    build: Build,
    code: str,
    name: str,
    now: datetime,
    mirror: str = "y",
) -> Frame:
    """Begin a frame; left and right lie either side of `mirror` = 0."""
    require(by, "own")
    refuse_closed(build)
    code = typed_code(code)
    if Frame.objects.filter(code__iexact=code).exists():
        raise Clash(f"There is a frame {code} already.", field="code")
    frame = Frame.objects.create(
        build=build,
        code=code,
        name=some_line(name, field="name", label="Name", most=120),
        mirror=_axis(mirror),
        made_at=now,
    )
    told(by, now, frame, f"New frame: {frame}.")
    return frame


@transaction.atomic
def change_frame(
    *, by: Person, frame: Frame, name: str, now: datetime, mirror: str = "y"
) -> Frame:
    """Call a frame by another name, or mirror it across another axis."""
    frame = held(by, frame)
    frame.name = some_line(name, field="name", label="Name", most=120)
    frame.mirror = _axis(mirror)
    frame.save(update_fields=["name", "mirror"])
    told(by, now, frame, f"Frame {frame.code}: {frame.name}, left of {mirror} = 0.")
    return frame


def held(by: Person, frame: Frame) -> Frame:
    """The frame held until this action is over, by somebody who may draw it."""
    require(by, "own")
    found = (
        Frame.objects.select_for_update(of=("self",))
        .select_related("build")
        .get(pk=frame.pk)
    )
    refuse_closed(found.build)
    return found


def told(by: Person, now: datetime, frame: Frame, text: str) -> None:
    """One line of the log about a frame."""
    write_entry(
        kind=words.EntryKind.CHANGED, by=by, now=now, build=frame.build, text=text
    )


def _axis(mirror: str) -> str:
    if mirror not in ("x", "y", "z"):
        raise BadInput(
            f"Mirror: “{mirror[:10]}” is none of x, y and z.", field="mirror"
        )
    return mirror
