"""Pictures from a camera made anew: upright, no larger than needed, and nothing in them but pixels.

Whatever comes is untrusted. Its size is looked at before it is decoded, and what is kept is encoded
from the pixels alone: place, time, camera, comments, colour profiles, and whatever was hung on to
the file are gone with the file. Pillow does the work; it is imported when the first picture comes.
"""

from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Any

from webapp.build.checks.fault_words import shown
from webapp.build.checks.size_checks import megabytes
from webapp.build.limits import (
    LONGEST_PHOTOGRAPH_SIDE_PX,
    MOST_PHOTOGRAPH_BYTES,
    MOST_PHOTOGRAPH_PIXELS,
    SMALL_PHOTOGRAPH_SIDE_PX,
)

if TYPE_CHECKING:
    from PIL.Image import Image

MEDIA_TYPE = "image/jpeg"
QUALITY, SMALL_QUALITY = 82, 75
FORMATS = ("JPEG", "PNG", "WEBP")
REMEDY = "Take it as a JPEG, or save it as one, and choose it again."
MOST_PROFILE_BYTES = 1_000_000

_ORIENTATION = 0x0112
"""The tag that says how the camera was held (CIPA DC-008, Exif 2.32, 4.6.4)."""
_PAPER = (255, 255, 255)
_PHONE_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})
"""Brands of HEIF files in their first box (ISO/IEC 23008-12)."""

SMALLER_QUALITY = 74
"""Of a picture in a report: no smear is seen at its size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeAnew:
    """A picture as it is kept: two JPEG files, the whole one and the small one.

    `width_px` and `height_px` are those of the whole one.
    """

    jpeg: bytes
    small_jpeg: bytes
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NoPhotograph:
    """Why a file is not taken, and what to do: `text` goes on after the name of the file."""

    text: str


def made_anew(data: bytes) -> MadeAnew | NoPhotograph:
    """The picture of a file, made anew from its pixels; of an animation the first picture.

    Takes up to 0.8 GB of memory while it works (a WebP of 50 megapixels; a JPEG 0.1, or 0.3 where
    it is a progressive one): ask for one at a time.
    """
    if not data:
        return NoPhotograph(text=f"the file is empty. {REMEDY}")
    if len(data) > MOST_PHOTOGRAPH_BYTES:
        return too_many_bytes()
    if data[4:8] == b"ftyp" and data[8:12] in _PHONE_BRANDS:
        return NoPhotograph(
            text="it is a HEIC picture, which can not be read here. In the camera's settings "
            "choose JPEG (“most compatible”), or save this one as JPEG, and choose it again."
        )
    try:
        return _made_anew(data)
    except MemoryError:
        return NoPhotograph(text=f"there is not enough memory to read it. {REMEDY}")
    except Exception:
        # Whatever a decoder stumbles over is in the file: it raises what comes to hand.
        return NoPhotograph(text=f"it is no picture that can be read, or it is damaged. {REMEDY}")


def too_many_bytes() -> NoPhotograph:
    """What is said of a file that is not even looked at."""
    return NoPhotograph(
        text=f"it is larger than {megabytes(MOST_PHOTOGRAPH_BYTES)}. Take it with fewer "
        "megapixels, or save it smaller, and choose it again."
    )


def _made_anew(data: bytes) -> MadeAnew | NoPhotograph:
    from PIL import Image, UnidentifiedImageError

    # Its own guard only warns below twice its limit; ours below stands before any pixel is read.
    Image.MAX_IMAGE_PIXELS = None
    try:
        opened = Image.open(BytesIO(data), formats=FORMATS)
    except UnidentifiedImageError:
        return NoPhotograph(text=_unknown_words(data))
    with opened as image:
        width, height = image.size
        if width * height > MOST_PHOTOGRAPH_PIXELS:
            million = MOST_PHOTOGRAPH_PIXELS // 1_000_000
            return NoPhotograph(
                text=f"it has {width:,} by {height:,} points, and {million} million are the most. "
                "Take it with fewer megapixels, or save it smaller, and choose it again."
            )
        turn = _turn_of(image)
        profile = image.info.get("icc_profile")
        plain = _in_usual_colours(_plain(_shrunk(image)), profile)
    if turn is not None:
        plain = plain.transpose(turn)
    jpeg = _jpeg(plain, QUALITY)
    small = plain.copy()
    small.thumbnail((SMALL_PHOTOGRAPH_SIDE_PX, SMALL_PHOTOGRAPH_SIDE_PX))
    return MadeAnew(
        jpeg=jpeg,
        small_jpeg=_jpeg(small, SMALL_QUALITY),
        width_px=plain.width,
        height_px=plain.height,
    )


def _unknown_words(data: bytes) -> str:
    """What is said of a file that is none of the formats: by its name where it begins like one."""
    start = data[:512].lstrip().lower()
    named = next(
        (
            name
            for mark, name in (
                (b"gif8", "a GIF"),
                (b"<svg", "an SVG drawing"),
                (b"<?xml", "an XML file"),
                (b"<!doctype html", "a web page"),
                (b"<html", "a web page"),
                (b"%pdf", "a PDF"),
                (b"bm", "a BMP"),
                (b"ii*\0", "a TIFF"),
                (b"mm\0*", "a TIFF"),
            )
            if start.startswith(mark)
        ),
        "no picture that can be read, or it is damaged",
    )
    return f"it is {named}. Photographs are JPEG, PNG or WebP. {REMEDY}"


def _turn_of(image: "Image") -> Any:
    """How the picture is to be turned to stand upright; None where it stands so."""
    from PIL.Image import Transpose

    try:
        said = image.getexif().get(_ORIENTATION)
    except Exception:
        return None  # a camera's notes that can not be read turn nothing
    turns = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return turns.get(said) if isinstance(said, int) else None


def _shrunk(image: "Image") -> "Image":
    """The first picture of a file, its longest side no longer than is kept.

    A JPEG is decoded at a half, a quarter or an eighth where that is still large enough, so that
    a large one never stands in memory whole.
    """
    most = LONGEST_PHOTOGRAPH_SIDE_PX
    longest = max(image.size)
    if longest <= most:
        image.load()
        return image
    width, height = (max(1, round(side * most / longest)) for side in image.size)
    image.draft("RGB", (width, height))
    image.load()
    if image.mode not in ("L", "RGB", "CMYK", "YCbCr"):
        image = _resizable(image)
    return image.resize((width, height), reducing_gap=3.0)


def _resizable(image: "Image") -> "Image":
    """The picture in a mode whose points can be averaged, its transparency kept."""
    if image.mode.startswith("I"):
        return _of_sixteen_bits(image)
    return image.convert("RGBA" if image.has_transparency_data else "RGB")


def _of_sixteen_bits(image: "Image") -> "Image":
    """A grey picture of sixteen bits with its upper eight: Pillow would cut off what is more."""
    return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")


def _plain(image: "Image") -> "Image":
    """The picture in three colours on paper, in an image that knows nothing else."""
    from PIL import Image

    if image.mode.startswith("I"):
        image = _of_sixteen_bits(image)
    plain = Image.new("RGB", image.size, _PAPER)
    if image.has_transparency_data:
        whole = image.convert("RGBA")
        plain.paste(whole, mask=whole.getchannel("A"))
    else:
        plain.paste(image.convert("RGB"))
    return plain


def _in_usual_colours(image: "Image", profile: object) -> "Image":
    """The picture in the colours that a file without a profile means (sRGB, IEC 61966-2-1).

    Telephones write wider ones, and a wire's colour is what a photograph may be about.
    """
    if not isinstance(profile, bytes) or not 0 < len(profile) <= MOST_PROFILE_BYTES:
        return image
    from PIL import ImageCms

    try:
        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        if own.profile.xcolor_space.strip() != "RGB":
            return image
        usual = ImageCms.createProfile("sRGB")
        turned = ImageCms.profileToProfile(image, own, usual, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return image
    return image if turned is None else turned


def _jpeg(image: "Image", quality: int) -> bytes:
    from PIL import Image

    # Pixels alone: what an image was read with (a comment, a density) it would write again.
    bare = Image.frombytes(image.mode, image.size, image.tobytes())
    out = BytesIO()
    bare.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()


def made_smaller(jpeg: bytes, side_px: int) -> bytes | None:
    """A picture of ours with its longest side no longer than that; None where it is none."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(BytesIO(jpeg), formats=("JPEG",)) as image:
            image.draft("RGB", (side_px, side_px))
            image.thumbnail((side_px, side_px), reducing_gap=2.0)
            return _jpeg(image.convert("RGB"), SMALLER_QUALITY)
    except (UnidentifiedImageError, OSError, ValueError):
        return None


def size_of(jpeg: bytes) -> tuple[int, int] | None:
    """Width and height of a picture of ours in pixels; None where it is none."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(BytesIO(jpeg), formats=("JPEG",)) as image:
            return image.size
    except (UnidentifiedImageError, OSError, ValueError):
        return None


def file_words(name: str, found: NoPhotograph) -> str:
    """The sentence about a file that is not taken, by its own name."""
    return f"{shown(name)}: {found.text}" if name.strip() else f"The picture: {found.text}"
