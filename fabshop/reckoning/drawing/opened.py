"""Opens a DXF that a stranger may have made: sized up first, then read by ezdxf.

Runs in the worker only, which ends it when it wants too much time or memory.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from io import StringIO

from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.insert import Insert
from ezdxf.filemanagement import read as read_dxf
from ezdxf.layouts.base import BaseLayout
from ezdxf.lldxf.const import DXFError

from fabshop.errors import BadInput, TooLarge

MOST_BYTES = 8 * 1024 * 1024
# A cut part has hundreds of entities; a whole city plan has these.
MOST_ENTITIES = 60_000
MOST_TAGS = 1_200_000
DEEPEST = 16

_BINARY = b"AutoCAD Binary DXF"
_BEGINS = re.compile(rb"\s*(999\s*\r?\n[^\n]*\n\s*)*0\s*\r?\nSECTION\s*\r?\n")


def looks_like_dxf(content: bytes) -> bool:
    """Whether the file begins as a DXF does, whatever its name says."""
    return content.startswith(_BINARY) or bool(_BEGINS.match(content[:4096]))


def opened(content: bytes) -> Drawing:
    """The document; refused with a sentence where it is no DXF or too much of one."""
    if content.startswith(_BINARY):
        raise BadInput(
            "This is a binary DXF. Save it as text (ASCII) DXF and send it again.",
            field="file",
        )
    if len(content) > MOST_BYTES:
        raise TooLarge(
            f"The drawing is {len(content) / 1048576:.1f} MB; at most "
            f"{MOST_BYTES // 1048576} MB are read. Send the part alone.",
            field="file",
        )
    if not looks_like_dxf(content):
        raise BadInput("This file does not begin as a DXF does.", field="file")
    _size_up(content)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        text = content.decode("cp1252", "replace")
    try:
        document = read_dxf(StringIO(text.replace("\r\n", "\n")))
    except (
        DXFError,
        ValueError,
        KeyError,
        IndexError,
        TypeError,
        AttributeError,
        RecursionError,
    ) as fault:
        raise BadInput(
            "This DXF is torn or not written as the format wants: "
            f"{str(fault)[:120] or type(fault).__name__}. Export it again.",
            field="file",
        ) from None
    _refuse_if_blown_up(document)
    return document


def drawn(document: Drawing) -> Iterator[tuple[DXFEntity, str]]:
    """Every entity of the model with its layer, what blocks hold put in its place."""
    for entity in document.modelspace():
        yield from _unpacked(entity, "0", 0)


def _unpacked(
    entity: DXFEntity, over: str, depth: int
) -> Iterator[tuple[DXFEntity, str]]:
    # What lies on layer 0 of a block is on the layer of the block's insert.
    own = str(entity.dxf.get("layer", "0"))
    layer = over if own == "0" else own
    if not isinstance(entity, Insert):
        yield entity, layer
        return
    inserts = entity.multi_insert() if entity.mcount > 1 else [entity]
    for insert in inserts:
        for inner in insert.virtual_entities():
            yield from _unpacked(inner, layer, depth + 1)


def _size_up(content: bytes) -> None:
    """Count entities and tags before anything is built of them."""
    tags = content.count(b"\n") // 2
    # Every entity, table row and block begins with the code 0 on a line of its own.
    starts = len(re.findall(rb"(?m)^[ \t]*0\r?\n[A-Z3]", content))
    if starts > MOST_ENTITIES or tags > MOST_TAGS:
        raise TooLarge(
            f"The drawing has about {max(starts, tags // 20)} entities; at most "
            f"{MOST_ENTITIES} are read. Send the part alone.",
            field="file",
        )


def _refuse_if_blown_up(document: Drawing) -> None:
    """Count what blocks in blocks come to, without making any of it."""
    counts: dict[str, int] = {}

    def count(name: str, above: tuple[str, ...]) -> int:
        if name in above:
            raise BadInput(
                f"Block “{name[:40]}” holds itself. Export the drawing without blocks.",
                field="file",
            )
        if len(above) > DEEPEST:
            raise TooLarge(
                f"Blocks lie in blocks more than {DEEPEST} deep. Export the drawing "
                "without blocks.",
                field="file",
            )
        if name not in counts:
            block = document.blocks.get(name)
            counts[name] = of(block, (*above, name)) if block is not None else 0
        return counts[name]

    def of(entities: BaseLayout, above: tuple[str, ...]) -> int:
        inserts: Counter[str] = Counter()
        total = 0
        for entity in entities:
            if isinstance(entity, Insert):
                inserts[str(entity.dxf.name)] += max(1, abs(entity.mcount))
            else:
                total += 1
        return total + sum(n * count(name, above) for name, n in inserts.items())

    total = of(document.modelspace(), ())
    if total > MOST_ENTITIES:
        raise TooLarge(
            f"With its blocks put in place the drawing has {total} entities; at most "
            f"{MOST_ENTITIES} are read. Send the part alone.",
            field="file",
        )
