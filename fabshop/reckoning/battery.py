"""Energy of battery packs, and the published class for air travel it falls under."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from fabshop.reckoning.questions.battery import BatteryQuestion, Pack

SOURCE = (
    "FAA PackSafe, lithium batteries; 49 CFR 175.10(a)(18): up to 100 Wh, over 100 "
    "to 160 Wh with the carrier's approval and at most two spares, nothing over 160 Wh"
)
CAUTION = (
    "The carrier decides and may allow less: ask before packing. Spares travel in "
    "the cabin, each terminal covered; damaged or swollen packs do not travel. "
    "Use the nominal voltage on the label."
)
_SMALL, _LARGE = Decimal(100), Decimal(160)


def battery(question: BatteryQuestion) -> dict[str, Any]:
    """Watt-hours and the published class of one pack of each kind."""
    return {
        "packs": [_classed(pack) for pack in question.packs],
        "source": SOURCE,
        "caution": CAUTION,
    }


def _classed(pack: Pack) -> dict[str, Any]:
    if pack.cells is None or pack.mah is None:
        return {
            "id": pack.id,
            "wh": None,
            "limit": "unknown",
            "note": "cells or capacity are not known: read the label, ask the carrier",
        }
    # Decimal, so that 100.0 Wh is not pushed over its limit by a rounding.
    energy = (
        pack.cells * Decimal(str(pack.volts_per_cell)) * Decimal(str(pack.mah)) / 1000
    )
    if energy <= _SMALL:
        limit = "up to 100 Wh"
        note = "spares in the cabin, terminals covered; ask the carrier"
    elif energy <= _LARGE:
        limit = "over 100 to 160 Wh"
        note = "the carrier's approval first; at most two spares a person, in the cabin"
    else:
        limit = "over 160 Wh"
        note = "not in passenger baggage; ask about cargo"
    if pack.installed and energy <= _LARGE:
        note = "in the machine: switched off, protected from starting; ask the carrier"
    return {"id": pack.id, "wh": float(energy), "limit": limit, "note": note}
