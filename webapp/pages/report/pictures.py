"""The photographs of a report as data, made small enough that the file can be sent."""

from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass

from webapp.build.build_input import Photograph
from webapp.exchange.photographs import made_smaller
from webapp.pages.report.choice import MOST_PICTURE_BYTES, side_px_of

Reader = Callable[[Photograph], bytes | None]
"""The JPEG of a photograph, None where its file is not there."""


@dataclass(slots=True)
class Pictures:
    """Gives the photographs one by one, so that never all of them are held.

    `left_bytes` is what there is room for: what does not fit, or is not there, is left out.
    """

    read: Reader
    count: int
    left_bytes: int = MOST_PICTURE_BYTES

    def address(self, photograph: Photograph) -> str:
        """A photograph as the address of an image, "" where it is left out."""
        jpeg = self.read(photograph)
        made = None if jpeg is None else made_smaller(jpeg, self._side_px())
        self.count -= 1
        if made is None or len(made) > self.left_bytes:
            return ""
        self.left_bytes -= len(made)
        return f"data:image/jpeg;base64,{b64encode(made).decode('ascii')}"

    def _side_px(self) -> int:
        """As long as all have room; shorter where those before took more than their share."""
        side = side_px_of(self.count)
        share = self.left_bytes / max(1, self.count)
        return min(side, 400) if share < 40_000 else side
