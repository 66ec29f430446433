"""Photos, shown to the shop's people only, and never as anything but a picture."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import get_object_or_404

from fabshop.errors import NotFound
from fabshop.records.log import Photo
from fabshop.web.gate import signed_in

YEAR_S = 365 * 24 * 60 * 60


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
    response.headers["Cache-Control"] = f"private, max-age={YEAR_S}, immutable"
    response.headers["ETag"] = etag
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response
