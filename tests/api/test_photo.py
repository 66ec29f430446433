"""Photos by program: judged by what they are."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from rest_framework.test import APIClient


def test_a_photo_is_kept_on_a_line_of_the_log(
    api: APIClient, tmp_path: Path, settings: Any
) -> None:
    settings.MEDIA_ROOT = tmp_path
    entry = api.post("/api/log/", {"text": "crack"}, format="json").json()
    made = io.BytesIO()
    Image.new("RGB", (60, 40)).save(made, "PNG")
    answer = api.post(
        "/api/photos/",
        {
            "content": SimpleUploadedFile("a.txt", made.getvalue()),
            "entry": entry["client_id"],
        },
        format="multipart",
    )
    assert answer.status_code == 201, answer.content
    assert (answer.json()["width"], answer.json()["height"]) == (60, 40)


def test_what_is_no_picture_is_refused(
    api: APIClient, tmp_path: Path, settings: Any
) -> None:
    settings.MEDIA_ROOT = tmp_path
    entry = api.post("/api/log/", {"text": "crack"}, format="json").json()
    answer = api.post(
        "/api/photos/",
        {
            "content": SimpleUploadedFile("a.jpg", b"#!/bin/sh\necho no picture\n"),
            "entry": entry["client_id"],
        },
        format="multipart",
    )
    assert answer.status_code in (413, 415, 422)
    assert answer.json()["detail"]
