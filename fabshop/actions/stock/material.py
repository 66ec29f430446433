"""Materials: taken over from the reference when first used, or the shop's own."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shop import require
from fabshop.actions.typed import some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Material
from fabshop.reference.material import materials

# Osmium, the densest there is, has 22.6 g to the cubic centimetre.
MOST_DENSITY = 23_000


def material_called(code: str, *, field: str = "material") -> Material:
    """The shop's material of that code, taken over from the reference if need be."""
    seen = " ".join(code.replace("\x00", "").split())
    known = Material.objects.filter(code=seen).first()
    if known is not None:
        return known
    row = materials().get(seen)
    if row is None:
        raise BadInput(
            f"Material: nobody here knows “{seen[:40]}”. Add it with its density "
            "first, or choose one of the list.",
            field=field,
        )
    return Material.objects.get_or_create(
        code=row.code,
        defaults={
            "name": row.name,
            "family": row.family,
            "density_mg_cm3": row.density_mg_cm3,
            "source": row.source,
        },
    )[0]


def _material_of(entry: LogEntry) -> Material:
    return Material.objects.get(pk=entry.before["material"])


@once(words.EntryKind.CHANGED, first=_material_of)
def add_material(
    *,
    by: Person,
    code: str,
    name: str,
    family: str,
    density_g_cm3: Decimal,
    source: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Material:
    """Add a material of the shop's own, with where its density is from."""
    require(by, "own")
    code = some_line(code, field="code", label="Code", most=40)
    density = int(density_g_cm3 * 1000) if density_g_cm3.is_finite() else 0
    if not 0 < density <= MOST_DENSITY:
        raise BadInput(
            f"Density: {density_g_cm3} g/cm³ cannot be; metals have 2 to 20, "
            "plastics about 1.",
            field="density",
        )
    if code in materials():
        raise Clash(f"{code} is in the reference already.", field="code")
    try:
        with transaction.atomic():
            material = Material.objects.create(
                code=code,
                name=some_line(name, field="name", label="Name", most=80),
                family=some_line(family, field="family", label="Family", most=40),
                density_mg_cm3=density,
                source=some_line(source, field="source", label="Source", most=300),
                is_own=True,
            )
    except IntegrityError:
        raise Clash(f"There is a material {code} already.", field="code") from None
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"Material added: {material}",
        before={"material": material.pk},
    )
    return material
