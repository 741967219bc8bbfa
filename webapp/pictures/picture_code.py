"""An address as a picture code (QR code, ISO/IEC 18004) that a phone's camera reads."""

from dataclasses import dataclass

QUIET = 4
"""So many empty squares lie round the code, as the standard asks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureCode:
    """The dark squares as one SVG path; a square is 1 wide, and `width` has the quiet ones too."""

    path: str
    width: int


def picture_code(text: str) -> PictureCode:
    """The code of a text; with 15 % of it covered it is still read (level M)."""
    import segno  # BSD, no dependencies; only who pairs a device needs it

    rows = [bytes(row) for row in segno.make_qr(text, error="m").matrix]
    pieces = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            run = len(row) - x - len(row[x:].lstrip(b"\x01"))
            if run:
                pieces.append(f"M{x + QUIET} {y + QUIET}h{run}v1h-{run}z")
            x += run or 1
    return PictureCode(path="".join(pieces), width=len(rows) + 2 * QUIET)
