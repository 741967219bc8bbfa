"""What its person wants in a report, and how large its photographs may be."""

from dataclasses import dataclass

MOST_PICTURE_BYTES = 24_000_000
"""Of all photographs of a report together, before base64 makes four bytes of three."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportChoice:
    """`names`: of people, where they signed or stood; `costs`: what parts cost."""

    names: bool = False
    costs: bool = False
    hours: bool = True
    photographs: bool = True


def side_px_of(count: int) -> int:
    """How long a side of each photograph is, of so many; small ones where they are very many."""
    if count <= 60:
        return 1_000
    return 800 if count <= 300 else 400
