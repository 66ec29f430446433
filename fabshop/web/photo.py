"""Photos, shown to the shop's people only, and never as anything but a picture."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Q, QuerySet
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock
from fabshop.actions.photo import keep_photo, middle_of, said_of
from fabshop.actions.picture import MOST_BYTES
from fabshop.errors import BadInput, NotFound, ShopError, TooLarge
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry, Photo, PhotoUse
from fabshop.records.order import Receipt
from fabshop.records.plan import PlanStep
from fabshop.records.stock import Piece
from fabshop.records.task import Task
from fabshop.web.gate import signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import tap

A_PAGE = 24
A_YEAR_S = 365 * 24 * 60 * 60


@signed_in
def photo(request: HttpRequest, digest: str, size: str) -> HttpResponse:
    kept = get_object_or_404(Photo, digest=digest)
    is_picture = kept.width > 0
    name = kept.file
    if is_picture and size != "full":
        name = kept.thumb if size == "thumb" else middle_of(kept.file)
    etag = f'"{digest}-{size}"'
    if request.headers.get("If-None-Match") == etag:
        return HttpResponseNotModified(headers={"ETag": etag})
    root = Path(settings.MEDIA_ROOT).resolve()
    path = (root / name).resolve()
    if size == "middle" and not path.is_file():
        # Kept before there was this size.
        path = (root / kept.file).resolve()
    if not path.is_relative_to(root) or not path.is_file():
        raise NotFound("The file of this photo is not in the shop's photo folder.")
    response = FileResponse(
        path.open("rb"),
        content_type="image/jpeg" if is_picture else "application/octet-stream",
        as_attachment=not is_picture,
        filename=f"{digest[:12]}.jpg" if is_picture else f"{digest[:12]}{path.suffix}",
    )
    # Named by its content, it never changes; a proxy must not keep it for strangers.
    response.headers["Cache-Control"] = f"private, max-age={A_YEAR_S}, immutable"
    response.headers["ETag"] = etag
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response


@signed_in
def build_photos(request: HttpRequest, slug: str) -> HttpResponse:
    """A build's pictures in the order in which they were taken."""
    build = get_object_or_404(Build, slug=slug)
    asked = Q(entry__build=build) | Q(step__plan__build=build)
    asked |= Q(receipt__line__order__build=build)
    seen = _with_what(PhotoUse.objects.filter(asked)).order_by("-at", "-pk")
    page = Paginator(seen, A_PAGE).get_page(request.GET.get("page"))
    context = {"now": clock.now(), "build": build, "photos": page}
    return respond(request, "build/photos.html", "", context)


def photos_of(
    *,
    component: Component | None = None,
    task: Task | None = None,
    joint: Joint | None = None,
    piece: Piece | None = None,
) -> list[PhotoUse]:
    """The latest photos of one thing: of its log lines, and of its steps."""
    if joint is not None:
        asked = Q(entry__before__joint=joint.pk)
    elif piece is not None:
        asked = Q(entry__before__piece=piece.pk)
    elif component is not None:
        asked = Q(entry__component=component) | Q(step__component=component)
    else:
        asked = Q(entry__task=task) | Q(step__task=task)
    return list(_with_what(PhotoUse.objects.filter(asked)).order_by("-at", "-pk")[:12])


def _with_what(uses: QuerySet[PhotoUse]) -> QuerySet[PhotoUse]:
    return uses.select_related(
        *("photo", "person", "entry__task", "entry__component", "entry__order"),
        *("receipt__line__order", "step__task", "step__component"),
    )


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
