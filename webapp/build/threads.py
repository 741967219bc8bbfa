"""How threads are written, and what is read off them: system, nominal size, pitch.

Systems: M (ISO metric), G (ISO 228, parallel), R (ISO 7-1, taper), NPT (ASME B1.20.1) and inch
(unified, by diameter and threads an inch).
"""

import re
from dataclasses import dataclass
from typing import Literal

ThreadSystem = Literal["M", "G", "R", "NPT", "inch"]

_WHOLE_OR_FRACTION = r"(?:\d+ )?\d+/\d+|\d+"
_METRIC = re.compile(r"M(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)")
_PIPE = re.compile(rf"(G|R|NPT)({_WHOLE_OR_FRACTION})")
_INCH = re.compile(rf"({_WHOLE_OR_FRACTION})-(\d+(?:\.\d+)?)")
WRITTEN_AS = "M14x1.5, G1/2, R1/2, NPT1/2 or 9/16-18"


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A thread: `nominal` as written ("14", "1/2"), `pitch` in mm or threads an inch, "" if none
    is written."""

    system: ThreadSystem
    nominal: str
    pitch: str = ""


def thread_of(text: object) -> Thread | None:
    """The thread that a text names; None where it names none."""
    if not isinstance(text, str):
        return None
    if found := _METRIC.fullmatch(text):
        return Thread(system="M", nominal=found[1], pitch=found[2])
    if found := _PIPE.fullmatch(text):
        system: ThreadSystem = "G" if found[1] == "G" else "R" if found[1] == "R" else "NPT"
        return Thread(system=system, nominal=found[2])
    if found := _INCH.fullmatch(text):
        return Thread(system="inch", nominal=found[1], pitch=found[2])
    return None
