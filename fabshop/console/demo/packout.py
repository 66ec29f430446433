"""The spares of the demo shop."""

from __future__ import annotations

from datetime import datetime

from fabshop.actions.packout import add_spare
from fabshop.console.demo.anchor import table
from fabshop.records.build import Component
from fabshop.records.shop import Person


def tell_packout(*, by: Person, now: datetime) -> None:
    """Keep each spare with the places it fits."""
    parts = Component.objects.in_bulk(field_name="code")
    for row in table("packout")["spares"]:
        told = dict(row)
        fits = [parts[code] for code in told.pop("fits")]
        add_spare(by=by, now=now, fits=fits, **told)
