"""A size as somebody types it in front of the engine, read into mm or the standard's name.

"38", "1 1/2 in", '1-1/2"', "-10", "G1/4", "M16x1.5", "12L": what it means depends on the end it is
typed for. A bare number is in the shop's own unit, a bare fraction in inches.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from webapp.build.plumbing import BY_MM, THREADED, EndKind, Size
from webapp.build.standard_sizes import CONE_THREADS, DASHES, Dash, dash_named, dash_of_thread
from webapp.build.threads import WRITTEN_AS, thread_of
from webapp.build.units import MM_IN_AN_INCH, ShopUnits, unit_of

_INCH_PARTS = 64
_FLARE: frozenset[EndKind] = frozenset(("flare37_male", "flare37_female"))
_CONE: frozenset[EndKind] = frozenset(("cone24_male", "cone24_female"))
_O_RING: frozenset[EndKind] = frozenset(("oring_male", "oring_female"))
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_MARKS = {
    "\N{DOUBLE PRIME}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    "''": '"',
    ",": ".",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{EN DASH}": "-",
    "\N{MINUS SIGN}": "-",
}
_LENGTHS = {"mm": Fraction(1), "cm": Fraction(10), "in": MM_IN_AN_INCH, '"': MM_IN_AN_INCH}
_MIXED = r"(?:(?P<whole>\d+)[ -])?(?P<over>\d+)/(?P<under>\d+)"
_FRACTION = re.compile(rf'{_MIXED} ?(?:in|inch|inches|")?')
_NUMBER = re.compile(r'(?P<number>\d+(?:\.\d+)?) ?(?P<unit>mm|cm|inches|inch|in|")?')
_DASH = re.compile(r"(?:an|jic|dash)? ?-? ?(?P<dash>\d+)")
_CONE_NAME = re.compile(r"(?P<tube>\d+) ?(?P<series>[ls])")
_METRIC = re.compile(r"m ?(\d+(?:\.\d+)?)(?: ?x ?(\d+(?:\.\d+)?))?")
_SIZE = r'((?:\d+[ -])?\d+/\d+|\d+) ?"?'
_PIPE_FIRST = re.compile(rf"(g|r|npt|bspp|bspt) ?{_SIZE}")
_PIPE_LAST = re.compile(rf"{_SIZE}(?: ?- ?\d+(?:\.\d+)?)? ?(g|r|npt|bspp|bspt)")
_UNIFIED = re.compile(r"((?:\d+ )?\d+/\d+|\d+) ?- ?(\d+(?:\.\d+)?)(?: ?(?:unf|unc|unef|un|jic))?")
_PIPE_SYSTEMS = {"g": "G", "bspp": "G", "r": "R", "bspt": "R", "npt": "NPT"}


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedSize:
    """A size that was read; None, and a sentence that says how to write it, where none was.

    Nothing typed is no fault: the size is not measured yet.
    """

    size: Size | None
    fault: str = ""


def read_size(text: str, kind: EndKind | None = None, units: ShopUnits = "metric") -> TypedSize:
    """The size of an end of that kind; without a kind, whatever it says: a name before mm."""
    said = _plain(text)
    if not said or kind == "open":
        return TypedSize(size=None)
    if kind == "flange":
        return TypedSize(size=" ".join(text.split()))
    if kind in THREADED:
        return _thread(text, said)
    if kind in _FLARE:
        return _flare(text, said)
    if kind in _CONE:
        return _cone(text, said)
    if kind in BY_MM or kind in _O_RING:
        return _measured(text, said, kind, units)
    return _anything(text, said, units)


def _plain(text: str) -> str:
    """In small letters, marks of one kind, single blanks."""
    said = text.strip().lower()
    for sign, fraction in _FRACTIONS.items():
        said = said.replace(sign, f" {fraction}")
    for mark, plain in _MARKS.items():
        said = said.replace(mark, plain)
    return " ".join(said.split())


# --- what was said -------------------------------------------------------------------------------


def _mm(said: str, units: ShopUnits) -> Fraction | None:
    if match := _FRACTION.fullmatch(said):
        if not int(match["under"]):
            return None
        return (int(match["whole"] or 0) + Fraction(int(match["over"]), int(match["under"]))) * (
            MM_IN_AN_INCH
        )
    if match := _NUMBER.fullmatch(said):
        unit = match["unit"] or unit_of("length", units).name
        return Fraction(match["number"]) * _LENGTHS["in" if unit.startswith("inch") else unit]
    return None


def _dash_in(said: str) -> Dash | None:
    """A dash that is written as one: with its stroke or its name."""
    match = _DASH.fullmatch(said)
    if match is None or said[0].isdigit():
        return None
    return dash_named(int(match["dash"]))


def _thread_in(said: str) -> str | None:
    """A thread by the standard's name."""
    if (match := _METRIC.fullmatch(said)) and match[2]:
        return f"M{_short(match[1])}x{_short(match[2])}"
    if match := _PIPE_FIRST.fullmatch(said):
        return f"{_PIPE_SYSTEMS[match[1]]}{match[2].replace('-', ' ')}"
    if match := _PIPE_LAST.fullmatch(said):
        return f"{_PIPE_SYSTEMS[match[2]]}{match[1].replace('-', ' ')}"
    match = _UNIFIED.fullmatch(said)
    return None if match is None else f"{match[1]}-{_short(match[2])}"


def _short(number: str) -> str:
    return f"{float(number):g}"


# --- by the kind of end --------------------------------------------------------------------------


def _thread(text: str, said: str) -> TypedSize:
    found = _thread_in(said)
    if found is not None and thread_of(found) is not None:
        return TypedSize(size=found)
    if match := _METRIC.fullmatch(said):
        return _unread(text, f"says no pitch: write M{match[1]}x and the pitch in mm")
    if _FRACTION.fullmatch(said):
        plain = said.rstrip('"inch ').replace("-", " ")
        return _unread(text, f"is a size without a thread: write G{plain}, R{plain} or NPT{plain}")
    return _unread(text, f"is no thread: write {WRITTEN_AS}")


def _flare(text: str, said: str) -> TypedSize:
    """A dash by its number, its tube or its thread."""
    dash = _dash_in(said)
    if dash is None and said.isascii() and said.isdecimal():
        dash = dash_named(int(said))
    if dash is None and (thread := _thread_in(said)) is not None:
        dash = dash_of_thread(thread)
    if dash is None and (tube := _mm(said, "metric")) is not None:
        dash = next((one for one in DASHES if abs(one.tube_mm - float(tube)) < 0.05), None)
    if dash is None:
        known = ", ".join(one.name for one in DASHES)
        return _unread(text, f"is no dash: write one of {known}")
    return TypedSize(size=dash.name)


def _cone(text: str, said: str) -> TypedSize:
    match = _CONE_NAME.fullmatch(said)
    name = f"{match['tube']}{match['series'].upper()}" if match else ""
    if name in CONE_THREADS:
        return TypedSize(size=name)
    if said.isdecimal():
        there = [f"{said}{series}" for series in "LS" if f"{said}{series}" in CONE_THREADS]
        if there:
            return _unread(text, f"says no series: write {' or '.join(there)}")
    return _unread(text, f"is no cone: write one of {', '.join(CONE_THREADS)}")


def _measured(text: str, said: str, kind: EndKind | None, units: ShopUnits) -> TypedSize:
    """In mm; a dash stands for its tube."""
    mm = _mm(said, units)
    if mm is not None:
        return TypedSize(size=float(mm))
    if (dash := _dash_in(said)) is not None:
        return TypedSize(size=dash.tube_mm)
    thread = _thread_in(said)
    if kind in _O_RING and thread is not None:
        dash = dash_of_thread(thread)
        return TypedSize(size=thread if dash is None else dash.tube_mm)
    if thread is not None:
        called = (kind or "end").replace("_", " ")
        return _unread(text, f"is a thread, and a {called} has a size: measure it, 38 or 1 1/2 in")
    return _unread(text, "is no size: write 38, 38 mm, 1 1/2 in or -10")


def _anything(text: str, said: str, units: ShopUnits) -> TypedSize:
    if (dash := _dash_in(said)) is not None:
        return TypedSize(size=dash.name)
    if (match := _CONE_NAME.fullmatch(said)) and (
        name := f"{match['tube']}{match['series'].upper()}"
    ) in CONE_THREADS:
        return TypedSize(size=name)
    mm = _mm(said, units)
    if mm is not None:
        return TypedSize(size=float(mm))
    thread = _thread_in(said)
    if thread is not None and thread_of(thread) is not None:
        return TypedSize(size=thread)
    return _unread(text, f"is no size: write 38, 1 1/2 in, -10 or {WRITTEN_AS}")


def _unread(text: str, why: str) -> TypedSize:
    return TypedSize(size=None, fault=f"“{' '.join(text.split())[:60]}” {why}.")


# --- written again -------------------------------------------------------------------------------


def typed_size_words(size: Size | None, units: ShopUnits = "metric") -> str:
    """A size in the shop's own units: "38", "1 1/2 in"; names as they are, "" for none.

    In inches to a sixty-fourth where it is one, else to a thousandth.
    """
    if size is None or isinstance(size, str):
        return size or ""
    if unit_of("length", units).name == "mm":
        return f"{round(size, 4):g}" if size < 10_000 else f"{size:.0f}"
    parts = size / float(MM_IN_AN_INCH) * _INCH_PARTS
    if abs(parts - round(parts)) > 1e-6:
        return f"{size / float(MM_IN_AN_INCH):.3f}".rstrip("0").rstrip(".") + " in"
    return f"{_mixed(Fraction(round(parts), _INCH_PARTS))} in"


def _mixed(inches: Fraction) -> str:
    whole, rest = divmod(inches, 1)
    if not rest:
        return f"{whole}"
    return f"{whole} {rest}" if whole else f"{rest}"
