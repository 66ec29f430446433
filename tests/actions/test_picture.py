from datetime import datetime, timedelta, timezone
from io import BytesIO
from typing import Any

import pytest
from PIL import ExifTags, Image, ImageCms

from fabshop.actions import picture
from fabshop.actions.picture import Broken, read_picture, without_notes
from fabshop.errors import BadInput, TooLarge


def encoded(image: Image.Image, kind: str = "JPEG", **save: Any) -> bytes:
    out = BytesIO()
    image.save(out, kind, **save)
    return out.getvalue()


def halves(width: int = 80, height: int = 40) -> Image.Image:
    """Red on the left, blue on the right."""
    image = Image.new("RGB", (width, height), "red")
    image.paste("blue", (width // 2, 0, width, height))
    return image


def notes(**fields: Any) -> Image.Exif:
    exif = Image.Exif()
    for name, value in fields.items():
        exif[ExifTags.Base[name]] = value
    return exif


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def is_red(pixel: Any) -> bool:
    return bool(pixel[0] > 200 and pixel[2] < 60)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF", "HEIF"])
def test_row_55_whatever_a_phone_sends_becomes_a_jpeg(kind: str) -> None:
    kept = read_picture(encoded(halves(), kind))
    image = opened(kept.jpeg)
    assert (image.format, image.size) == ("JPEG", (80, 40))
    assert (kept.width, kept.height) == (80, 40)
    assert is_red(image.getpixel((10, 20)))
    assert not is_red(image.getpixel((70, 20)))


def test_a_big_picture_is_made_smaller_and_a_small_one_left() -> None:
    kept = read_picture(encoded(halves(4000, 3000)))
    assert (kept.width, kept.height) == (1600, 1200)
    assert opened(kept.thumb).size == (320, 240)
    assert opened(read_picture(encoded(halves())).thumb).size == (80, 40)


def test_row_55_it_is_turned_upright_by_its_orientation() -> None:
    # 6: the camera was held a quarter turn; the red left edge belongs on top.
    kept = read_picture(encoded(halves(), exif=notes(Orientation=6)))
    image = opened(kept.jpeg)
    assert image.size == (40, 80)
    assert is_red(image.getpixel((20, 10)))
    assert not is_red(image.getpixel((20, 70)))
    assert image.getexif().get(ExifTags.Base.Orientation) is None


def test_row_55_nothing_is_told_of_where_and_by_what_it_was_taken() -> None:
    exif = notes(Make="Lens & Co", Model="Secret 9")
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (52.0, 31.0, 0.0)
    kept = read_picture(encoded(halves(), exif=exif, comment=b"in the garage"))
    for content in (kept.jpeg, kept.thumb):
        assert not opened(content).getexif()
        for told in (b"Exif", b"GPS", b"Lens", b"Secret", b"garage", b"http"):
            assert told not in content


def test_the_camera_may_say_when() -> None:
    exif = notes()
    camera = exif.get_ifd(ExifTags.IFD.Exif)
    camera[ExifTags.Base.DateTimeOriginal] = "2027:09:03 06:40:00"
    taken = datetime(2027, 9, 3, 6, 40)
    assert read_picture(encoded(halves(), exif=exif)).taken == taken
    camera[ExifTags.Base.OffsetTimeOriginal] = "+02:00"
    zone = timezone(timedelta(hours=2))
    kept = read_picture(encoded(halves(), exif=exif))
    assert kept.taken == taken.replace(tzinfo=zone)
    camera[ExifTags.Base.DateTimeOriginal] = "0000:00:00 00:00:00"
    assert read_picture(encoded(halves(), exif=exif)).taken is None


def test_what_was_see_through_is_on_white() -> None:
    kept = read_picture(encoded(Image.new("RGBA", (8, 8), (0, 0, 0, 0)), "PNG"))
    assert opened(kept.jpeg).getpixel((4, 4)) == (255, 255, 255)


def test_a_colour_profile_is_applied_before_it_is_dropped() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kept = read_picture(encoded(halves(), icc_profile=profile))
    assert is_red(opened(kept.jpeg).getpixel((10, 20)))
    assert "icc_profile" not in opened(kept.jpeg).info
    assert read_picture(encoded(halves(), icc_profile=b"no profile")).width == 80


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_row_55_a_torn_file_is_broken(kind: str) -> None:
    noise = Image.effect_noise((300, 300), 90).convert("RGB")
    content = encoded(noise, kind)
    with pytest.raises(Broken):
        read_picture(content[: len(content) // 2])


def test_a_file_torn_in_its_first_bytes_is_broken_not_refused() -> None:
    with pytest.raises(Broken):
        read_picture(encoded(halves())[:30])


@pytest.mark.parametrize(
    "content",
    [b"hello", b"%PDF-1.7 ...", b"<svg xmlns='x'/>", b"PK\x03\x04", b"\x00" * 100],
)
def test_row_55_what_is_no_picture_is_refused_by_its_content(content: bytes) -> None:
    with pytest.raises(BadInput, match="That is not a picture"):
        read_picture(content)


@pytest.mark.parametrize(
    ("content", "ending"),
    [
        (b"OggS" + b"\x00" * 60, "ogg"),
        (b"\x1aE\xdf\xa3 webm", "webm"),
        (b"\x00\x00\x00\x1cftypM4A \x00", "m4a"),
        (b"RIFF\x00\x00\x00\x00WAVEfmt ", "wav"),
    ],
)
def test_row_54_what_somebody_said_is_known_by_its_content(
    content: bytes, ending: str
) -> None:
    with pytest.raises(picture.Voice) as told:
        read_picture(content)
    assert told.value.ending == ending


def test_row_55_too_many_bytes_are_refused_with_the_limit() -> None:
    with pytest.raises(TooLarge) as refused:
        read_picture(b"\xff\xd8\xff" + b"x" * (41 * 1024 * 1024))
    assert str(refused.value) == "The photo has 41.0 MB; at most 40 MB are taken."
    assert refused.value.status == 413


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize("edge", [9000, 20_000])
def test_row_55_a_small_file_that_opens_into_a_huge_picture_is_refused(
    edge: int,
) -> None:
    bomb = encoded(Image.new("1", (edge, edge)), "PNG")
    assert len(bomb) < 100_000
    with pytest.raises(TooLarge, match="more than 64 million points"):
        read_picture(bomb)


def test_a_torn_jpeg_is_kept_without_its_notes() -> None:
    exif = notes(Make="Lens & Co")
    content = encoded(halves(), exif=exif, comment=b"in the garage")
    clean = without_notes(content)
    assert b"Lens" not in clean
    assert b"garage" not in clean
    assert opened(clean).size == (80, 40)
    assert opened(clean).getpixel((10, 20)) == opened(content).getpixel((10, 20))
    assert without_notes(content[:25]) in (content[:2], content[:20], content[:25])
    assert without_notes(b"other") == b"other"
    assert picture.MOST_PIXELS == Image.MAX_IMAGE_PIXELS
