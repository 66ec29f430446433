"""Suppliers: the firms and friends that orders go to."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils.text import slugify

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import kept_text, one_line, some_line
from fabshop.errors import Clash
from fabshop.records.order import Supplier
from fabshop.records.shop import Person


@transaction.atomic
def add_supplier(
    *,
    by: Person,
    name: str,
    now: datetime,
    code: str | None = None,
    contact: str = "",
    note: str = "",
) -> Supplier:
    """Add a firm or a friend; the code is made from the name where none is given."""
    require(by, "own")
    name = some_line(name, field="name", label="Name", most=120)
    if Supplier.objects.filter(name__iexact=name).exists():
        raise Clash(f"There is a supplier {name} already.", field="name")
    if code is None:
        code = _free_supplier_code(slugify(name)[:36] or "supplier")
    elif Supplier.objects.filter(code=code).exists():
        raise Clash(f"There is a supplier with the code {code} already.", field="code")
    supplier = Supplier.objects.create(
        code=fit_code(code),
        name=name,
        contact=one_line(contact, field="contact", label="Contact", most=200),
        note=kept_text(note)[0],
    )
    write_entry(
        kind=words.EntryKind.CHANGED, by=by, now=now, text=f"Supplier added: {name}"
    )
    return supplier


def _free_supplier_code(stem: str) -> str:
    taken = set(
        Supplier.objects.filter(code__startswith=stem).values_list("code", flat=True)
    )
    if stem not in taken:
        return stem
    return next(
        code for n in range(2, len(taken) + 3) if (code := f"{stem}-{n}") not in taken
    )
