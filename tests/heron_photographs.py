"""Draws the demo's photographs anew: `python -m tests.heron_photographs`.

Sketches in place of what a telephone would take, so that nothing in them is anybody's. They are
stored as the program itself makes them, with their digests' sizes in `photographs.json`.
"""

import json
from io import BytesIO
from pathlib import Path
from typing import Any

from PIL import Image, ImageDraw, ImageFont

from webapp.exchange.photographs import NoPhotograph, made_anew

FOLDER = Path(__file__).parents[1] / "seed_data" / "heron" / "photographs"
SIZE = (640, 480)
KEPT_SIZE = (400, 300)
"""Small, for they come with every copy of the program."""
PAPER, INK, GREY, BLUE = (236, 230, 214), (30, 38, 48), (150, 150, 145), (70, 105, 150)


def _canvas() -> tuple[Image.Image, ImageDraw.ImageDraw]:
    image = Image.new("RGB", SIZE, PAPER)
    return image, ImageDraw.Draw(image)


def _write(draw: ImageDraw.ImageDraw, at: tuple[int, int], text: str, size: int = 26) -> None:
    draw.text(at, text, fill=INK, font=ImageFont.load_default(size))


def hose_labels() -> Image.Image:
    """Two hoses with paper labels tied round them."""
    image, draw = _canvas()
    for top, label, words in (
        (120, "U1", "top, to the thermostat"),
        (300, "L1", "bottom, to the pump"),
    ):
        draw.line([(0, top + 40), (640, top)], fill=GREY, width=64)
        draw.line([(0, top + 40), (640, top)], fill=BLUE, width=6)
        draw.rectangle((240, top - 40, 400, top + 80), fill="white", outline=INK, width=3)
        _write(draw, (290, top - 24), label, 48)
        _write(draw, (250, top + 34), "this end up", 22)
        _write(draw, (30, top + 90), words)
    return image


def gap_to_the_fan() -> Image.Image:
    """The dry-fitted radiator beside the fan, the gap measured."""
    image, draw = _canvas()
    draw.rectangle((90, 60, 200, 400), fill=GREY, outline=INK, width=4)
    for y in range(80, 400, 16):
        draw.line([(94, y), (196, y)], fill=PAPER, width=3)
    draw.ellipse((330, 90, 380, 370), outline=INK, width=6)
    draw.rectangle((380, 200, 470, 260), fill=GREY, outline=INK, width=4)
    draw.line([(200, 230), (330, 230)], fill=INK, width=3)
    for x in (200, 330):
        draw.line([(x, 215), (x, 245)], fill=INK, width=3)
    _write(draw, (228, 188), "22 mm", 30)
    _write(draw, (90, 420), "radiator")
    _write(draw, (390, 420), "fan")
    return image


DRAWN: tuple[tuple[str, Any, dict[str, str]], ...] = (
    (
        "gap_to_the_fan",
        gap_to_the_fan,
        {"task": "rad_bracket", "caption": "Dry fit: the gap to the fan", "added_on": "2026-02-09"},
    ),
    (
        "hose_labels",
        hose_labels,
        {"task": "hoses_cut", "caption": "Hose labels, as they came", "added_on": "2026-02-09"},
    ),
)


def main() -> None:
    """Write every picture, small and whole, and what the demo says of it."""
    listed = []
    for name, draw, said in DRAWN:
        out = BytesIO()
        draw().resize(KEPT_SIZE).save(out, "PNG")
        made = made_anew(out.getvalue())
        if isinstance(made, NoPhotograph):
            raise RuntimeError(made.text)
        (FOLDER / f"{name}.jpg").write_bytes(made.jpeg)
        (FOLDER / f"{name}.small.jpg").write_bytes(made.small_jpeg)
        listed.append(
            {"file": name, **said, "width_px": made.width_px, "height_px": made.height_px}
        )
    text = json.dumps(listed, indent=1, ensure_ascii=False)
    (FOLDER.parent / "photographs.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
