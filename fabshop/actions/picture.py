"""Pictures as they are kept: upright, fit for a page, nothing told of where."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from io import BytesIO

import pillow_heif
from PIL import (
    ExifTags,
    Image,
    ImageCms,
    ImageFile,
    ImageOps,
    UnidentifiedImageError,
)

from fabshop.errors import BadInput, TooLarge

pillow_heif.register_heif_opener()
Image.init()

MOST_BYTES = 40 * 1024 * 1024
# A progressive JPEG of this size takes some 200 MB while it is opened.
MOST_PIXELS = 64_000_000
EDGE = 1600
MIDDLE_EDGE = 800
THUMB_EDGE = 320
QUALITY = 85

Image.MAX_IMAGE_PIXELS = MOST_PIXELS

_WANTED = ("JPEG", "MPO", "PNG", "WEBP", "GIF", "BMP", "TIFF", "HEIF", "AVIF")
# Not every Pillow is built with all of them.
_FORMATS = [kind for kind in _WANTED if kind in Image.OPEN]
# How files begin that mean to be pictures, however badly they go on.
_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG\r\n", b"GIF8", b"II*\x00", b"MM\x00*")
_BRANDS = (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif")
_SOUNDS = (
    *((b"OggS", "ogg"), (b"ID3", "mp3"), (b"\xff\xfb", "mp3"), (b"#!AMR", "amr")),
    *((b"\x1aE\xdf\xa3", "webm"), (b"caff", "caf"), (b"\xff\xf1", "aac")),
)
_STANDALONE = {0x01, *range(0xD0, 0xD8)}


@dataclass(frozen=True)
class Picture:
    """A picture in its three sizes as JPEG; `taken` is by the camera's clock.

    `taken` is naive where the camera did not say its offset.
    """

    jpeg: bytes
    middle: bytes
    thumb: bytes
    width: int
    height: int
    taken: datetime | None


class Voice(Exception):
    """It is no picture but what somebody said; `ending` is its kind of file."""

    def __init__(self, ending: str) -> None:
        super().__init__(ending)
        self.ending = ending


class Broken(Exception):
    """It begins as a picture does and cannot be read to its end."""


def read_picture(content: bytes) -> Picture:
    """Read whatever a phone sends into a JPEG that carries nothing but the picture.

    Judged by its content, never by its name. Raises Broken for a torn file, Voice for
    sound, BadInput for what is no picture, TooLarge for more bytes or points than may
    be opened.
    """
    if len(content) > MOST_BYTES:
        raise TooLarge(
            f"The photo has {len(content) / 1024 / 1024:.1f} MB; at most "
            f"{MOST_BYTES // 1024 // 1024} MB are taken.",
            field="photo",
        )
    if ending := _voice(content):
        raise Voice(ending)
    # Some library beside this one may have asked Pillow to fill torn files with grey.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        image = Image.open(BytesIO(content), formats=_FORMATS)
        _refuse_too_many_points(*image.size)
        taken = _taken(image)
        upright = _flat(ImageOps.exif_transpose(image))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_many_points() from None
    except TooLarge:
        raise
    except UnidentifiedImageError:
        if _means_to_be_a_picture(content):
            raise Broken from None
        raise BadInput(
            "That is not a picture. Send a photo: JPEG, PNG, WebP or HEIC.",
            field="photo",
        ) from None
    except Exception as error:
        # Decoders of torn files raise whatever they like; none of it is ours.
        raise Broken from error
    upright.thumbnail((EDGE, EDGE), Image.Resampling.LANCZOS)
    jpeg = _jpeg(upright)
    width, height = upright.size
    upright.thumbnail((MIDDLE_EDGE, MIDDLE_EDGE), Image.Resampling.LANCZOS)
    middle = _jpeg(upright)
    upright.thumbnail((THUMB_EDGE, THUMB_EDGE), Image.Resampling.LANCZOS)
    return Picture(jpeg, middle, _jpeg(upright), width, height, taken)


def without_notes(content: bytes) -> bytes:
    """A torn JPEG without the segments that tell of camera and place.

    Anything else is given back as it is.
    """
    if not content.startswith(b"\xff\xd8"):
        return content
    kept, at = bytearray(content[:2]), 2
    while at + 4 <= len(content) and content[at] == 0xFF:
        marker = content[at + 1]
        if marker in _STANDALONE:
            kept += content[at : at + 2]
            at += 2
            continue
        if marker == 0xDA:
            # The picture itself follows to the end.
            return bytes(kept + content[at:])
        length = int.from_bytes(content[at + 2 : at + 4], "big")
        is_note = 0xE1 <= marker <= 0xEF or marker == 0xFE
        if not is_note:
            kept += content[at : at + 2 + length]
        at += 2 + max(2, length)
    return bytes(kept)


def _refuse_too_many_points(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise _too_many_points()


def _too_many_points() -> TooLarge:
    return TooLarge(
        f"The picture has more than {MOST_PIXELS // 1_000_000} million points. "
        "Send a smaller one.",
        field="photo",
    )


def _flat(image: Image.Image) -> Image.Image:
    """The picture in plain sRGB, on white where it was see-through."""
    profile = image.info.get("icc_profile")
    if "A" in image.getbands() or "transparency" in image.info:
        seen = image.convert("RGBA")
        flat = Image.new("RGB", seen.size, "white")
        flat.paste(seen, mask=seen.getchannel("A"))
    else:
        flat = image.convert("RGB")
    if profile and image.mode == "RGB":
        # The straw or blue of a weld must not shift because a profile is dropped.
        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            srgb = ImageCms.createProfile("sRGB")
            flat = ImageCms.profileToProfile(flat, source, srgb) or flat
        except (ImageCms.PyCMSError, OSError):
            return flat
    return flat


def _jpeg(image: Image.Image) -> bytes:
    # A fresh picture: nothing that rode along in the old one's notes.
    clean = Image.new("RGB", image.size)
    clean.paste(image)
    out = BytesIO()
    clean.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def _taken(image: Image.Image) -> datetime | None:
    """When the camera says it was taken, if it says so and means a real moment."""
    notes = image.getexif().get_ifd(ExifTags.IFD.Exif)
    seen = notes.get(ExifTags.Base.DateTimeOriginal)
    offset = notes.get(ExifTags.Base.OffsetTimeOriginal)
    if not isinstance(seen, str):
        return None
    try:
        taken = datetime.strptime(seen.strip(" \x00")[:19], "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None
    if taken.year < 1990:
        return None
    if isinstance(offset, str):
        try:
            return datetime.fromisoformat(taken.isoformat() + offset.strip(" \x00"))
        except ValueError:
            return taken
    return taken


def _voice(content: bytes) -> str:
    """The ending of what phones record speech as; "" for anything else."""
    if content[:4] == b"RIFF" and content[8:12] == b"WAVE":
        return "wav"
    if content[4:8] == b"ftyp" and content[8:12] in (b"M4A ", b"3gp4", b"3gp5"):
        return "m4a"
    return next((end for begin, end in _SOUNDS if content.startswith(begin)), "")


def _means_to_be_a_picture(content: bytes) -> bool:
    return (
        content.startswith(_BEGINNINGS)
        or (content[:4] == b"RIFF" and content[8:12] == b"WEBP")
        or (content[4:8] == b"ftyp" and content[8:12] in _BRANDS)
    )
