"""Pictures made anew: what is taken, what is refused in words, and that only pixels stay."""

import struct
import subprocess
import sys
import zipfile
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageCms

from tests.photographs import (
    camera_notes,
    colour_at,
    file_of,
    opened,
    photograph,
    two_halves,
)
from webapp.build.limits import MOST_PHOTOGRAPH_BYTES
from webapp.exchange.photographs import MadeAnew, NoPhotograph, made_anew


def taken(data: bytes) -> MadeAnew:
    made = made_anew(data)
    assert isinstance(made, MadeAnew), made
    return made


def refused(data: bytes) -> str:
    made = made_anew(data)
    assert isinstance(made, NoPhotograph)
    return made.text


# nothing but pixels -------------------------------------------------------------------------
def test_place_maker_comment_and_density_are_gone() -> None:
    image = two_halves()
    data = file_of(image, exif=camera_notes(), comment=b"taken at home", dpi=(300, 300))
    assert b"Maker of telephones" in data
    assert Image.open(BytesIO(data)).getexif().get_ifd(0x8825)
    made = taken(data)
    for jpeg in (made.jpeg, made.small_jpeg):
        assert b"Maker" not in jpeg
        assert b"home" not in jpeg
        read = opened(jpeg)
        assert not dict(read.getexif())
        # What every JPEG has: that it is one, and no density of its own.
        assert set(read.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert read.info["jfif_density"] == (1, 1)


@pytest.mark.parametrize(
    ("orientation", "left", "right"),
    # Exif 2.32, 4.6.4: which of the corners of the scene the first row and column are. The scene
    # is red on its left; so what was held upside down (3) or mirrored (2) is turned to be so.
    [(1, "red", "blue"), (2, "blue", "red"), (3, "blue", "red"), (4, "red", "blue")],
)
def test_a_picture_that_lies_is_turned_upright(orientation: int, left: str, right: str) -> None:
    made = taken(file_of(two_halves(), exif=camera_notes(orientation)))
    assert (made.width_px, made.height_px) == (40, 20)
    assert (colour_at(made.jpeg, 4, 10), colour_at(made.jpeg, 35, 10)) == (left, right)


@pytest.mark.parametrize(
    ("orientation", "top", "bottom"),
    # 6: the first row is the right side of the scene, the first column its top: the left end of
    # the file is the top. 8: the first row is its left side, the first column its bottom.
    [(5, "red", "blue"), (6, "red", "blue"), (7, "blue", "red"), (8, "blue", "red")],
)
def test_a_picture_held_on_its_side_stands(orientation: int, top: str, bottom: str) -> None:
    made = taken(file_of(two_halves(), exif=camera_notes(orientation)))
    assert (made.width_px, made.height_px) == (20, 40)
    assert opened(made.jpeg).size == (20, 40)
    assert (colour_at(made.jpeg, 10, 4), colour_at(made.jpeg, 10, 35)) == (top, bottom)


def test_notes_of_a_camera_that_can_not_be_read_turn_nothing() -> None:
    made = taken(file_of(two_halves(), exif=b"Exif\0\0MM\0*\xff\xff\xff\xff" + b"\xff" * 40))
    assert colour_at(made.jpeg, 4, 10) == "red"


def _zip() -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        file.writestr("run.me", "hidden")
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("more", [b"<script>alert(1)</script>", _zip()], ids=["script", "zip"])
def test_what_hangs_on_a_file_is_gone(kind: str, more: bytes) -> None:
    made = taken(file_of(two_halves(), kind) + more)
    for jpeg in (made.jpeg, made.small_jpeg):
        assert b"<script" not in jpeg
        assert not zipfile.is_zipfile(BytesIO(jpeg))
        assert jpeg.endswith(b"\xff\xd9")  # the end of a JPEG (ITU T.81, B.1.1.3)


def test_what_stands_in_the_comments_of_a_file_is_gone() -> None:
    from PIL.PngImagePlugin import PngInfo

    said = PngInfo()
    said.add_text("Comment", "<script>alert(1)</script>")
    for data in (
        file_of(two_halves(), comment=b"<script>alert(1)</script>"),
        file_of(two_halves(), "PNG", pnginfo=said),
    ):
        assert b"<script" in data
        assert b"<script" not in taken(data).jpeg


# what is taken ------------------------------------------------------------------------------
def test_the_longest_side_becomes_two_thousand_points_and_the_small_one_four_hundred() -> None:
    for size, whole, small in (
        ((2400, 1200), (2000, 1000), (400, 200)),
        ((1200, 2400), (1000, 2000), (200, 400)),
        ((2000, 10), (2000, 10), (400, 2)),
        ((9000, 3), (2000, 1), (400, 1)),
        ((300, 200), (300, 200), (300, 200)),
        ((1, 1), (1, 1), (1, 1)),
    ):
        for kind in ("JPEG", "PNG", "WEBP") if max(size) < 2001 else ("JPEG",):
            made = taken(file_of(Image.new("RGB", size, (9, 90, 60)), kind))
            assert (made.width_px, made.height_px) == whole
            assert opened(made.jpeg).size == whole
            assert opened(made.small_jpeg).size == small


def test_transparency_is_laid_on_paper() -> None:
    clear = Image.new("RGBA", (20, 20), (200, 30, 30, 255))
    clear.paste((0, 0, 0, 0), (10, 0, 20, 20))
    palette = clear.convert("RGB").quantize(4)
    left, right = palette.getpixel((2, 2)), palette.getpixel((18, 18))
    assert left != right
    for data in (
        file_of(clear, "PNG"),
        file_of(clear, "WEBP", lossless=True),
        file_of(palette, "PNG", transparency=right),
        file_of(clear.convert("LA").convert("RGBA"), "PNG"),
        file_of(clear.resize((2400, 2400)), "PNG"),
    ):
        made = taken(data)
        white = opened(made.jpeg).getpixel((made.width_px - 2, 2))
        assert white == (255, 255, 255)
        assert opened(made.jpeg).getpixel((2, 2)) != white


def test_a_grey_picture_of_sixteen_bits_keeps_its_greys() -> None:
    # Half of 65,535 is mid grey: 128 of 255, not the white that cutting off would give.
    for size in ((30, 30), (2200, 30)):
        grey = Image.new("I;16", size, 32_768)
        found = opened(taken(file_of(grey, "PNG")).jpeg).getpixel((5, 5))
        assert isinstance(found, tuple)
        assert all(abs(part - 128) <= 2 for part in found)


def test_printing_colours_become_those_of_a_screen() -> None:
    made = taken(file_of(two_halves().convert("CMYK")))
    assert opened(made.jpeg).mode == "RGB"
    assert colour_at(made.jpeg, 4, 10) == "red"


def test_colours_of_a_profile_are_told_without_it() -> None:
    """A picture whose profile means other colours looks the same without the profile."""
    lab_like = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    assert colour_at(taken(file_of(two_halves(), icc_profile=lab_like)).jpeg, 4, 10) == "red"
    broken = taken(file_of(two_halves(), icc_profile=b"no profile at all" * 10))
    assert colour_at(broken.jpeg, 4, 10) == "red"
    assert "icc_profile" not in opened(broken.jpeg).info


def test_of_an_animation_the_first_picture_is_taken() -> None:
    frames = [two_halves(), Image.new("RGB", (40, 20), (0, 160, 0))]
    for kind in ("PNG", "WEBP"):
        made = taken(file_of(frames[0], kind, save_all=True, append_images=frames[1:]))
        assert colour_at(made.jpeg, 4, 10) == "red"


# what is refused ----------------------------------------------------------------------------
def _png_of_size(width: int, height: int) -> bytes:
    """The head of a PNG that says how large it is, and no pixels (PNG, 11.2.2)."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)

    def chunk(name: bytes, content: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + content))
        return struct.pack(">I", len(content)) + name + content + check

    parts = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


def _webp_of_size(width: int, height: int) -> bytes:
    """The head of a WebP of several frames (RFC 9649, 2.7)."""
    sides = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    chunk = b"VP8X" + struct.pack("<I", 10) + b"\x02\0\0\0" + sides
    return b"RIFF" + struct.pack("<I", len(chunk) + 4) + b"WEBP" + chunk


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "the file is empty"),
        (b"\0" * 500, "no picture that can be read"),
        (b"hello, this is a text", "no picture that can be read"),
        (photograph()[:-200], "damaged"),
        (file_of(two_halves(400, 400), "PNG")[:300], "damaged"),
        (file_of(two_halves(400, 400), "WEBP")[:200], "damaged"),
        (b"\xff\xd8\xff", "damaged"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>", "an SVG drawing"),
        (b"<?xml version='1.0'?><svg></svg>", "an XML file"),
        (b"  <!DOCTYPE html><script>1</script>", "a web page"),
        (file_of(two_halves(), "GIF"), "it is a GIF"),
        (file_of(two_halves(), "TIFF"), "it is a TIFF"),
        (file_of(two_halves(), "BMP"), "it is a BMP"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "it is a HEIC picture"),
        (_png_of_size(8_000, 6_251), "8,000 by 6,251 points, and 50 million"),
        (_png_of_size(60_000, 60_000), "50 million are the most"),
        (_png_of_size(2**31 - 1, 2**31 - 1), "are the most"),
        (_png_of_size(0, 5), "damaged"),
        (_png_of_size(7_000, 7_000), "damaged"),
        (_webp_of_size(16_383, 16_383), "or it is damaged"),
    ],
)
def test_what_is_no_photograph_is_refused_in_words(data: bytes, said: str) -> None:
    text = refused(data)
    assert said in text
    assert text.endswith("choose it again.")


def test_a_gif_that_moves_is_refused_as_any_gif() -> None:
    frames = [two_halves(), two_halves(40, 20).rotate(90)]
    assert "a GIF" in refused(file_of(frames[0], "GIF", save_all=True, append_images=frames[1:]))


def test_a_file_above_the_limit_is_not_even_opened() -> None:
    assert "larger than 30 MB" in refused(photograph() + bytes(MOST_PHOTOGRAPH_BYTES))
    assert isinstance(made_anew(photograph() + bytes(1000)), MadeAnew)


def test_words_hidden_in_a_png_do_not_fill_the_memory() -> None:
    bomb = zlib.compress(bytes(50_000_000))
    text = b"Comment\0\0" + bomb
    chunk = struct.pack(">I", len(text)) + b"zTXt" + text
    chunk += struct.pack(">I", zlib.crc32(b"zTXt" + text))
    data = file_of(two_halves(), "PNG")
    made = made_anew(data[:33] + chunk + data[33:])
    assert isinstance(made, NoPhotograph) or b"Comment" not in made.jpeg


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="the peak is asked of Linux")
def test_the_largest_jpeg_takes_far_less_memory_than_its_points() -> None:
    """50 megapixels in three colours are 150 MB; at a quarter of its sides it is decoded in 10."""
    script = (
        "import sys\n"
        "from webapp.exchange.photographs import made_anew\n"
        "data = sys.stdin.buffer.read()\n"
        "made = made_anew(data)\n"
        "status = open('/proc/self/status').read()\n"
        "peak = int(status.split('VmHWM:')[1].split()[0]) // 1024\n"
        "print(made.width_px, made.height_px, peak)\n"
    )
    data = file_of(Image.new("RGB", (8_160, 6_120), (120, 90, 60)), subsampling=2)
    done = subprocess.run([sys.executable, "-c", script], input=data, capture_output=True)
    width, height, peak_megabytes = map(int, done.stdout.split())
    assert (width, height) == (2000, 1500)
    assert peak_megabytes < 150
