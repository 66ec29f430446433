"""Photos are for the shop's people, and are never served as anything else."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from fabshop.records.log import Photo, PhotoUse
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    JointFactory,
    PhotoFactory,
    PieceFactory,
    ReceiptFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kept(shop, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/one.jpg").write_bytes(b"the picture")
    (tmp_path / "photos/one.thumb.jpg").write_bytes(b"the small one")
    return PhotoFactory(
        digest="d" * 64, file="photos/one.jpg", thumb="photos/one.thumb.jpg"
    )


def body(answer):
    return b"".join(answer.streaming_content)


def test_both_sizes_are_served_with_safe_headers(page, kept):
    full = page.get(f"/photos/{kept.digest}/full/")
    assert body(full) == b"the picture"
    assert full.headers["Content-Type"] == "image/jpeg"
    assert full.headers["X-Content-Type-Options"] == "nosniff"
    assert full.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert full.headers["Cache-Control"].startswith("private")
    assert body(page.get(f"/photos/{kept.digest}/thumb/")) == b"the small one"


def test_the_same_photo_is_not_sent_twice(page, kept):
    first = page.get(f"/photos/{kept.digest}/full/")
    again = page.get(
        f"/photos/{kept.digest}/full/",
        headers={"If-None-Match": first.headers["ETag"]},
    )
    assert again.status_code == 304


def test_a_stranger_sees_no_photo(client, kept):
    assert client.get(f"/photos/{kept.digest}/full/").status_code == 302


def test_a_path_that_leads_out_of_the_folder_is_not_followed(page, kept, tmp_path):
    (tmp_path.parent / "secret").write_bytes(b"secret")
    out = PhotoFactory(digest="e" * 64, file="../secret", thumb="../secret")
    assert page.get(f"/photos/{out.digest}/full/").status_code == 404


def test_a_photo_whose_file_is_gone_says_so(page, kept, tmp_path):
    (tmp_path / "photos/one.jpg").unlink()
    answer = page.get(f"/photos/{kept.digest}/full/")
    assert answer.status_code == 404
    assert "The file of this photo is not in the shop" in answer.text


def test_a_photo_of_40_mb_is_refused_before_it_is_read(page, monkeypatch):
    page.post("/log/note/", {"text": "see", "client_id": "n1"})
    monkeypatch.setattr("fabshop.web.photo.MOST_BYTES", 10)
    file = SimpleUploadedFile("big.jpg", b"x" * 11, "image/jpeg")
    answer = page.post("/log/n1/photo/", {"photo": file})
    assert answer.status_code == 413
    assert "are taken. Send a smaller one." in answer.text


def test_a_torn_photo_is_kept_as_a_file_and_never_shown_as_a_picture(page, kept):
    sent = BytesIO()
    Image.effect_noise((400, 300), 90).save(sent, "JPEG")
    torn = SimpleUploadedFile("torn.jpg", sent.getvalue()[:2000], "image/jpeg")
    text = page.post("/log/note/", {"text": "", "photo": torn}, follow=True).text
    assert "kept as it came" in text
    digest = Photo.objects.get(width=0).digest
    answer = page.get(f"/photos/{digest}/full/")
    assert answer.headers["Content-Type"] == "application/octet-stream"
    assert answer.headers["Content-Disposition"].startswith("attachment")


def test_a_photo_is_put_on_what_came_in_a_parcel(page, kept):
    receipt = ReceiptFactory()
    path = f"/receipts/{receipt.pk}/photo/"
    assert "None yet." in page.get(path).text
    assert page.post(path).status_code == 422
    sent = BytesIO()
    Image.new("RGB", (60, 40)).save(sent, "JPEG")
    photo = SimpleUploadedFile("box.jpg", sent.getvalue(), "image/jpeg")
    assert page.post(path, {"photo": photo}, follow=True).text.count("<img") == 1
    assert receipt.photos.count() == 1


def test_a_viewer_looks_at_photos_but_adds_none(viewers_page, kept):
    receipt = ReceiptFactory()
    path = f"/receipts/{receipt.pk}/photo/"
    assert "Keep the photo" not in viewers_page.get(path).text
    sent = BytesIO()
    Image.new("RGB", (60, 40)).save(sent, "JPEG")
    photo = SimpleUploadedFile("box.jpg", sent.getvalue(), "image/jpeg")
    assert viewers_page.post(path, {"photo": photo}).status_code == 403


def a_picture(side: int, colour: str = "red"):
    out = BytesIO()
    Image.new("RGB", (side, side // 2), colour).save(out, "JPEG")
    return SimpleUploadedFile("a.jpg", out.getvalue(), "image/jpeg")


def test_a_builds_pictures_stand_in_order_of_time_with_what_they_show(page, kept):
    build = BuildFactory(slug="buggy")
    part = ComponentFactory(build=build, code="T1", name="Belly pan")
    for text, colour in (("First.", "red"), ("Then.", "blue")):
        told = {"about": "T1", "text": text, "photo": a_picture(900, colour)}
        assert page.post("/log/note/", told).status_code == 302
    told = page.get("/builds/buggy/photos/").text
    assert "2 photos" in told
    assert told.index("Then.") < told.index("First.")
    assert str(part) in told
    assert told.count("/middle/") == 2
    assert page.get("/components/T1/").text.count("/thumb/") == 2


def test_a_photo_comes_in_three_sizes(page, kept):
    page.post("/log/note/", {"text": "", "photo": a_picture(3000)})
    digest = Photo.objects.exclude(pk=kept.pk).get().digest
    edges = []
    for size in ("thumb", "middle", "full"):
        answer = page.get(f"/photos/{digest}/{size}/")
        edges.append(max(Image.open(BytesIO(body(answer))).size))
    assert edges == [320, 800, 1600]


def test_a_photo_kept_before_the_middle_size_is_shown_large(page, kept):
    assert body(page.get(f"/photos/{kept.digest}/middle/")) == b"the picture"


def test_row_54_a_voice_note_alone_is_kept_as_it_came(page, kept):
    said = SimpleUploadedFile("said.m4a", b"\x00\x00\x00\x1cftypM4A said", "audio/mp4")
    text = page.post("/log/note/", {"text": "", "photo": said}, follow=True).text
    assert "A voice note, kept as it came" in text
    voice = Photo.objects.get(width=0)
    answer = page.get(f"/photos/{voice.digest}/full/")
    assert body(answer) == b"\x00\x00\x00\x1cftypM4A said"
    assert answer.headers["Content-Disposition"].endswith('.m4a"')
    assert answer.headers["Content-Type"] == "application/octet-stream"


def test_photos_stand_at_their_joint_and_at_their_piece(page, kept):
    for path, thing in (
        ("/joints/J17/", JointFactory(code="J17")),
        ("/pieces/M03/", PieceFactory(code="M03")),
    ):
        assert "None yet." in page.get(path).text
        told = {"about": thing.code.lower(), "text": "", "photo": a_picture(900)}
        assert page.post("/log/note/", told).status_code == 302
        shown = page.get(path).text
        assert "None yet." not in shown
        assert shown.count("/thumb/") == 1


def test_a_waiver_is_photographed_with_its_reason(page, kept):
    TaskFactory(code="W23", is_hold=True)
    told = {"do": "waive", "reason": "Only reached from below", "client_id": "w1"}
    answer = page.post("/tasks/W23/hold/", told | {"photo": a_picture(600)})
    assert answer.status_code == 302
    use = PhotoUse.objects.get()
    assert (use.entry.kind, use.entry.client_id) == ("hold", "w1")
    assert page.get("/tasks/W23/hold/").text.count("/thumb/") == 1


def test_readings_kept_with_a_photo_alone_leave_a_line_for_it(page, kept):
    TaskFactory(code="W23", is_hold=True)
    told = {"do": "keep", "client_id": "k1", "photo_follows": "1"}
    assert page.post("/tasks/W23/hold/", told).status_code == 302
    answer = page.post("/log/k1/photo/", {"photo": a_picture(600)})
    assert answer.status_code == 302
    assert page.get("/tasks/W23/hold/").text.count("/thumb/") == 1
