"""What every sheet has: head, foot, QR back to the phone, and its file name."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

import segno
from django.template.loader import render_to_string

from fabshop import worker
from fabshop.records.log import LogEntry
from fabshop.units import show_moment

PDF_LIMIT_S = 30.0
PAPERS = ("a4", "letter")
APRON = "apron-"
"""Before the name of a paper: two pages on one, to be folded to A5 for the apron."""


@dataclass(frozen=True)
class Sheet:
    """One sheet before it is HTML. `path` is where its QR leads on the phone.

    `code` is the short human code under the QR, `edition` the letter in the foot,
    `paper` the one it is made for where it is not for either.
    """

    name: str
    title: str
    template: str
    path: str
    code: str
    filename: str
    subject: str
    made_at: datetime
    offset_minutes: int
    edition: str = ""
    digest: str = ""
    entries: int = 0
    paper: str = ""
    context: dict[str, Any] = field(default_factory=dict)

    def html(self, *, base_url: str, for_pdf: bool = False) -> str:
        """The whole page; every address in it stands on `base_url`."""
        made = said(self.made_at, self.offset_minutes)
        return render_to_string(
            self.template,
            {
                **self.context,
                "sheet": self,
                "base_url": base_url.rstrip("/"),
                "for_pdf": for_pdf,
                "made": f"made {made} from {self.entries} entries",
                "digest": self.digest[:8],
            },
        )

    def pdf(self, *, base_url: str, paper: str) -> bytes:
        """The sheet as PDF, made in the worker process."""
        is_apron = paper.startswith(APRON) and not self.paper
        made: bytes = worker.run(
            "fabshop.paper.apron" if is_apron else "fabshop.paper.render",
            "pdf",
            self.html(base_url=base_url, for_pdf=True),
            paper=self.paper or paper.removeprefix(APRON),
            limit_s=PDF_LIMIT_S,
        )
        return made


def qr(address: str) -> str:
    """A QR of level M with its quiet zone, as the address of an image."""
    return segno.make(address, error="m", micro=False).svg_data_uri(border=4)


def said(moment: datetime, offset_minutes: int) -> str:
    """An aware moment on the sheet's clock: Fri 3 Sep 06:45."""
    local = moment.replace(tzinfo=None) - (moment.utcoffset() or timedelta())
    return show_moment(local + timedelta(minutes=offset_minutes))


def entries_so_far() -> int:
    """How many log entries a sheet made now is made from."""
    return LogEntry.objects.count()
