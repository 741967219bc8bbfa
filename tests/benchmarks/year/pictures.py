"""Pictures as a telephone takes them in a shop: large, grainy, each another one."""

from functools import cache
from io import BytesIO

import numpy as np
from PIL import Image, ImageChops

SIZE = (2000, 1500)
GRAIN = 9
"""Grey levels of noise: what makes a picture taken by lamp light as large as it is."""


@cache
def _scene() -> Image.Image:
    """Light that falls off to the sides, pipes across, and the grain of a night shot."""
    width, height = SIZE
    across, down = np.meshgrid(np.linspace(0, 1, width), np.linspace(0, 1, height))
    light = 200 - 120 * ((across - 0.5) ** 2 + (down - 0.5) ** 2)
    pipes = 25 * np.sin(40 * (across + 0.3 * down)) + 15 * np.sin(90 * down)
    grain = np.random.default_rng(1).normal(0, GRAIN, (height, width))
    grey = (light + pipes + grain)[:, :, np.newaxis] * (1.0, 0.95, 0.85)
    return Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8))


def picture(number: int) -> bytes:
    """The file of picture `number`: the scene moved along."""
    out = BytesIO()
    ImageChops.offset(_scene(), 37 * number, 11 * number).save(out, "JPEG", quality=90)
    return out.getvalue()
