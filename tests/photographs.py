"""Pictures for tests, drawn here: files as a camera or somebody with ill intent makes them."""

from io import BytesIO
from typing import Any

from PIL import Image

RED, BLUE = (200, 30, 30), (30, 30, 200)


def two_halves(width: int = 40, height: int = 20) -> Image.Image:
    """A picture whose left half is red and whose right half is blue."""
    image = Image.new("RGB", (width, height), RED)
    image.paste(BLUE, (width // 2, 0, width, height))
    return image


def file_of(image: Image.Image, kind: str = "JPEG", **options: Any) -> bytes:
    """The file of a picture; a JPEG without the smearing of colours."""
    out = BytesIO()
    usual = {"quality": 95, "subsampling": 0} if kind == "JPEG" else {}
    image.save(out, kind, **{**usual, **options})
    return out.getvalue()


def photograph(shade: int = 120, size: tuple[int, int] = (64, 48)) -> bytes:
    """A small JPEG; another shade is another picture."""
    return file_of(Image.new("RGB", size, (shade, 90, 60)))


def camera_notes(orientation: int = 1) -> bytes:
    """What a telephone writes into a picture: how it was held, its maker, the place."""
    notes = Image.Exif()
    notes[0x0112] = orientation
    notes[0x010F] = "Maker of telephones"
    place = notes.get_ifd(0x8825)
    place[1], place[2] = "N", (52.0, 31.0, 12.0)
    return notes.tobytes()


def opened(jpeg: bytes) -> Image.Image:
    """The picture of a file, read whole."""
    image = Image.open(BytesIO(jpeg))
    image.load()
    return image


def colour_at(jpeg: bytes, x: int, y: int) -> str:
    """What a point of a picture looks like: red, blue, or its three numbers."""
    found = opened(jpeg).convert("RGB").getpixel((x, y))
    assert isinstance(found, tuple)
    for name, colour in (("red", RED), ("blue", BLUE)):
        if all(abs(a - b) < 30 for a, b in zip(found, colour, strict=True)):
            return name
    return str(found)
