"""Sizes that standards name: dashes of 37 degree flares, 24 degree cones, pipe threads.

SAE J514 (ISO 8434-2) with threads as AN924; ISO 8434-1 (DIN 2353), L and S series; ISO 228 (G) and
ISO 7-1 (R); ASME B1.20.1 (NPT). The first was read, the others are known by name.
"""

from dataclasses import dataclass
from fractions import Fraction

from webapp.build.units import MM_IN_AN_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Dash:
    """A dash: so many sixteenths of an inch of tube outside, and the thread of its flare."""

    sixteenths: int
    thread: str

    @property
    def name(self) -> str:
        """ "-10"."""
        return f"-{self.sixteenths}"

    @property
    def tube_mm(self) -> float:
        """The outside of its tube."""
        return float(Fraction(self.sixteenths, 16) * MM_IN_AN_INCH)


DASHES: tuple[Dash, ...] = tuple(
    Dash(sixteenths=sixteenths, thread=thread)
    for sixteenths, thread in (
        *((3, "3/8-24"), (4, "7/16-20"), (5, "1/2-20"), (6, "9/16-18"), (8, "3/4-16")),
        *((10, "7/8-14"), (12, "1 1/16-12"), (16, "1 5/16-12"), (20, "1 5/8-12")),
        (24, "1 7/8-12"),
    )
)
CONE_THREADS = {
    **dict(
        zip(
            ("6L", "8L", "10L", "12L", "15L", "18L", "22L", "28L", "35L", "42L"),
            (
                *("M12x1.5", "M14x1.5", "M16x1.5", "M18x1.5", "M22x1.5", "M26x1.5", "M30x2"),
                *("M36x2", "M45x2", "M52x2"),
            ),
            strict=True,
        )
    ),
    **dict(
        zip(
            ("6S", "8S", "10S", "12S", "14S", "16S", "20S", "25S", "30S", "38S"),
            (
                *("M14x1.5", "M16x1.5", "M18x1.5", "M20x1.5", "M22x1.5", "M24x1.5", "M30x2"),
                *("M36x2", "M42x2", "M52x2"),
            ),
            strict=True,
        )
    ),
}
"""The thread of each cone, by its tube and series (ISO 8434-1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeThread:
    """A pipe thread by its name: the outside of the thread in mm (of the pipe, for NPT), and
    threads an inch."""

    name: str
    outside_mm: float
    threads_an_inch: float


PIPE_THREADS: tuple[PipeThread, ...] = tuple(
    PipeThread(name=f"{system}{size}", outside_mm=outside, threads_an_inch=threads)
    for system, rows in (
        *(
            (
                system,
                (
                    *(("1/8", 9.728, 28.0), ("1/4", 13.157, 19.0), ("3/8", 16.662, 19.0)),
                    *(("1/2", 20.955, 14.0), ("3/4", 26.441, 14.0), ("1", 33.249, 11.0)),
                ),
            )
            for system in ("G", "R")
        ),
        (
            "NPT",
            (
                *(("1/8", 10.29, 27.0), ("1/4", 13.72, 18.0), ("3/8", 17.15, 18.0)),
                *(("1/2", 21.34, 14.0), ("3/4", 26.67, 14.0), ("1", 33.40, 11.5)),
            ),
        ),
    )
    for size, outside, threads in rows
)


def dash_named(sixteenths: int) -> Dash | None:
    """The dash of so many sixteenths; None where the standard has none."""
    return next((dash for dash in DASHES if dash.sixteenths == sixteenths), None)


def dash_of_thread(thread: str) -> Dash | None:
    """The dash whose flare has that thread."""
    return next((dash for dash in DASHES if dash.thread == thread), None)
