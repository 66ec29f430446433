"""Photos, shown to the shop's people only, and never as anything but a picture."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock
from fabshop.actions.photo import keep_photo, said_of
from fabshop.actions.picture import MOST_BYTES
from fabshop.errors import BadInput, NotFound, ShopError, TooLarge
from fabshop.records.log import LogEntry, Photo, PhotoUse
from fabshop.records.order import Receipt
from fabshop.records.plan import PlanStep
from fabshop.web.gate import signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import tap

A_YEAR_S = 365 * 24 * 60 * 60


@signed_in
def photo(request: HttpRequest, digest: str, size: str) -> HttpResponse:
    kept = get_object_or_404(Photo, digest=digest)
    is_picture = kept.width > 0
    name = kept.thumb if size == "thumb" and is_picture else kept.file
    etag = f'"{digest}-{size}"'
    if request.headers.get("If-None-Match") == etag:
        return HttpResponseNotModified(headers={"ETag": etag})
    root = Path(settings.MEDIA_ROOT).resolve()
    path = (root / name).resolve()
    if not path.is_relative_to(root) or not path.is_file():
        raise NotFound("The file of this photo is not in the shop's photo folder.")
    response = FileResponse(
        path.open("rb"),
        content_type="image/jpeg" if is_picture else "application/octet-stream",
        as_attachment=not is_picture,
        filename=f"{digest[:12]}.jpg" if is_picture else f"{digest[:12]}.bin",
    )
    # Named by its content, it never changes; a proxy must not keep it for strangers.
    response.headers["Cache-Control"] = f"private, max-age={A_YEAR_S}, immutable"
    response.headers["ETag"] = etag
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response


@signed_in
def receipt_photo(request: HttpRequest, pk: int) -> HttpResponse:
    """The photos of what one look into one parcel found."""
    receipts = Receipt.objects.select_related("line__order", "person")
    receipt = get_object_or_404(receipts.prefetch_related("photos__photo"), pk=pk)
    context = {"now": clock.now(), "receipt": receipt}
    if request.method != "POST":
        return respond(request, "receipt/photo.html", "", context)
    try:
        if not request.FILES.getlist("photo"):
            raise BadInput("Choose a photo first.", field="photo")
        keep_photos(request, receipt=receipt)
    except ShopError as error:
        return refused(request, error, "receipt/photo.html", "", context)
    return redirect("receipt-photo", pk)


def keep_photos(
    request: HttpRequest,
    *,
    entry: LogEntry | None = None,
    receipt: Receipt | None = None,
    step: PlanStep | None = None,
) -> list[PhotoUse]:
    """Keep every photo of the form; one tap may bring several, each under its id."""
    said = tap(request)
    uses = []
    for number, file in enumerate(request.FILES.getlist("photo")):
        if file.size > MOST_BYTES:  # said before it is read into memory
            raise TooLarge(
                f"Photo: {file.size // 1024 // 1024} MB, and at most "
                f"{MOST_BYTES // 1024 // 1024} MB are taken. Send a smaller one.",
                field="photo",
            )
        id_of_tap = said["client_id"]
        use = keep_photo(
            by=said["by"],
            now=said["now"],
            at=said["at"],
            client_id=f"{id_of_tap}-{number}"[-64:] if id_of_tap else None,
            content=file.read(),
            entry=entry,
            receipt=receipt,
            step=step,
        )
        if sentence := said_of(use):
            messages.warning(request, sentence)
        uses.append(use)
    return uses
