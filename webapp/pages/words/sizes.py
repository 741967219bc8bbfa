"""How sizes, lengths, volumes, pressures and the names of things are written on the screen.

The one place for it: everything of plumbing that has a unit passes through here. What is held is
in mm, bar, °C and litres; the page that is being made says in which units the shop of its build
writes (`write_in`), as one says in which language a page is written.
"""

import re
from contextvars import ContextVar

from webapp.build.plumbing import HARD, End, EndKind, Size
from webapp.build.typed_sizes import typed_size_words
from webapp.build.units import MM_IN_AN_INCH, Quantity, ShopUnits, amount_words, unit_of
from webapp.pages.words.amounts import number
from webapp.plumbing.ends import Joining, end_size_words
from webapp.plumbing.needs import MM_IN_A_METRE, Need
from webapp.plumbing.sizes import called_in_inches, mm_words, trade_size, whole_sixteenths

END_WORDS: dict[EndKind, str] = {
    "flare37_male": "37° flare, male,",
    "flare37_female": "37° flare, female,",
    "flare45_male": "45° flare, male,",
    "flare45_female": "45° flare, female,",
    "cone24_male": "24° cone, male,",
    "cone24_female": "24° cone, female,",
    "oring_male": "O-ring end, male,",
    "oring_female": "O-ring end, female,",
    "quick_male": "quick end, male,",
    "quick_female": "quick end, female,",
    "vband": "V band",
    "weld": "weld end",
    "male": "male thread",
    "female": "female thread",
}
"""Kinds of ends that are called otherwise than they are stored."""
COUNTED = (
    *("V clamp", "slip clamp", "clamp", "washer", "gasket", "O-ring", "coupler", "reducer"),
    *("elbow", "joiner", "bend", "step", "sleeve", "adapter", "cap", "plug", "blank"),
)
"""First words of names that take an s where there are several."""
METRE_FROM_MM = 1000.0
FEET_FROM_MM = 120 * float(MM_IN_AN_INCH)
_IN_MM = (
    *("hose", "tube", "bend", "elbow", "coupler", "joiner", "reducer", "step", "sleeve", "clamp"),
    *("for", "cap", "plug", "blank", "O-ring", "bead", "spigot", "nipple", "barb", "pipe"),
    *("socket", "slip", "weld", "vband", "quick_male", "quick_female", "oring_male"),
    *("oring_female", "port", "male,", "female,", "end", "end,", "band", "adapter"),
)
"""Words after which a number in the name of a thing is a size in mm; others count or are names."""
_RANGED = ("reducer", "clamp", "step", "sleeve", "coupler", "elbow", "joiner", "bend")
"""Words after which two numbers are two sizes, and no thread."""
_ONE = re.compile(r"\d+(?:\.\d+)?")
_TWO = re.compile(r"(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)")

_UNITS: ContextVar[ShopUnits] = ContextVar("shop_units", default="metric")


def write_in(of: ShopUnits) -> None:
    """From here on, in this request, the shop writes in these units."""
    _UNITS.set(of)


def shop_units() -> ShopUnits:
    """The units in which the page that is being made is written, and what is typed is read."""
    return _UNITS.get()


def is_metric() -> bool:
    """Whether lengths are written in mm."""
    return unit_of("length", shop_units()).name == "mm"


def unit(quantity: Quantity) -> str:
    """What a bare number of a quantity is typed in: "mm", "psi"."""
    return unit_of(quantity, shop_units()).name


def keypad(of: Quantity) -> str:
    """The keypad of a phone on which so much of it can be typed: inches want the fraction's stroke
    and the inch mark, mm, psi and litres are numbers. Sizes are always text: a dash, a thread."""
    return "text" if of == "length" and not is_metric() else "decimal"


def size(of: Size | None) -> str:
    """A size by itself, as things of it are called: "38", "M16x1.5", "1 1/2 in", "50 mm"."""
    if of is None:
        return "not measured"
    if isinstance(of, str):
        return of
    return number(of, 1) if is_metric() else _trade_words(mm_words(trade_size(of)))


def end(of: End, *, is_hard: bool = False) -> str:
    """What an end is called: "bead 38", "male thread M16x1.5", "bead, not measured"."""
    kind = END_WORDS.get(of.kind, of.kind)
    if of.kind == "open":
        return "open end"
    if of.size is None:
        return f"{kind.rstrip(',')}, not measured"
    words = end_size_words(of, is_hard=is_hard)
    return f"{kind} {words if isinstance(of.size, str) else _trade_words(words)}"


def joined_end(side: Joining) -> str:
    """An end as a joint sees it."""
    return end(side.end, is_hard=side.piece in HARD)


def called(name: str) -> str:
    """A thing by its name on the buy list and the shelf, as the screen writes it."""
    if not is_metric():
        name = _name_in_inches(name)
    for kind, said in END_WORDS.items():
        if "_" in kind:
            name = name.replace(kind, said.replace(",", ""))
    return name


def _name_in_inches(name: str) -> str:
    """A name, whose sizes are mm, in inches; threads and flanges keep theirs."""
    told: list[str] = []
    before = ""
    for word in name.split(" "):
        two = _TWO.fullmatch(word) if before in _RANGED else None
        if two is not None:
            told.append(_both(two[1], two[2], is_range=before == "clamp"))
        else:
            told.append(_trade_words(word) if before in _IN_MM and _ONE.fullmatch(word) else word)
        before = word
    return " ".join(told)


def _both(first: str, last: str, *, is_range: bool) -> str:
    """Two sizes of one thing: "3 to 2 3/8 in", "40 to 60 mm", "3 in to 50 mm".

    The range of a clamp is no trade size: it is said in inches where it is whole sixteenths.
    """
    one, other = (_trade_words(mm, is_exact=is_range).rsplit(" ", 1) for mm in (first, last))
    if one[1] == other[1]:
        return f"{one[0]} to {other[0]} {one[1]}"
    return f"{' '.join(one)} to {' '.join(other)}"


def _trade_words(mm: str, *, is_exact: bool = False) -> str:
    """A trade size that is called by its mm, as the shop calls it: "38"; "1 1/2 in", "50 mm".

    It is called by the inches that go by it. What no inches go by stays in mm: a name is never
    made of a converted figure, which nobody could ask for in a shop.
    """
    if is_metric() or not _ONE.fullmatch(mm):
        return mm
    inches = whole_sixteenths(float(mm)) if is_exact else called_in_inches(float(mm))
    if inches is None:
        return f"{mm} mm"
    return typed_size_words(float(inches * MM_IN_AN_INCH), shop_units())


def so_many(need: Need) -> str:
    """So much of a thing: "coupler 63", "4 clamps 60-80", "0.42 m of hose 5 vacuum"."""
    name = called(need.what)
    if need.length_mm:
        return f"{length(need.length_mm)} of {name}"
    if need.count == 1:
        return name
    for one in COUNTED:
        if name.startswith(f"{one} "):
            return f"{need.count} {one}s{name[len(one) :]}"
    return f"{need.count} times {name}"


def amount(need: Need) -> str:
    """How much of it alone: "4", "0.42 m"."""
    return length(need.length_mm) if need.length_mm else str(need.count)


def length(mm: float) -> str:
    """A length: "640 mm", from a metre on "1.24 m"; "25.2 in", from ten feet on "12.5 ft"."""
    if not is_metric():
        if mm >= FEET_FROM_MM:
            return f"{number(mm / float(MM_IN_AN_INCH) / 12, 1)} ft"
        words = typed_size_words(mm, shop_units())
        return words if "." not in words else f"{number(mm / float(MM_IN_AN_INCH), 2)} in"
    if mm < METRE_FROM_MM:
        return f"{number(mm, 1)} mm"
    return f"{number(mm / MM_IN_A_METRE, 3)} m"


def length_told(mm: float) -> str:
    """A length to the last digit, for telling what became of it: "640 mm", "25.197 in"."""
    return amount_words(mm, "length", shop_units()) if is_metric() else typed_size_words(mm, "us")


def litres_told(value: float) -> str:
    """A volume likewise."""
    return amount_words(value, "volume", shop_units())


def temperature_told(celsius: float) -> str:
    """A temperature likewise."""
    return amount_words(celsius, "temperature", shop_units())


def bar_told(value: float) -> str:
    """A pressure likewise."""
    return amount_words(value, "pressure", shop_units())


def diameter(mm: float) -> str:
    """A diameter or a step that was worked out, to a tenth of a mm or a thousandth of an inch."""
    if not is_metric():
        return f"{number(mm / float(MM_IN_AN_INCH), 3)} in"
    return f"{number(mm, 1)} mm"


def bare(mm: float) -> str:
    """A length without its unit, as it stands in a sum whose unit is said once."""
    if not is_metric():
        return number(mm / float(MM_IN_AN_INCH), 3)
    return number(mm, 1)


_MM_RANGE = re.compile(r"from ([\d,.]+) to ([\d,.]+) mm\b")
_MM_ALONE = re.compile(r"(?<![\w.,])(-?[\d,]*\d(?:\.\d+)?) mm\b")
_NO_BORE = re.compile(r"(?<![\w.,])(-?[\d,]*\d(?:\.\d+)?)(?= is no bore)")
_SAID_IN = re.compile(
    r"(in|its) (mm|bar|litres): (-?[\d,.]*\d)\. Enter a number from ([\d,.]+) to ([\d,.]*\d)\."
)
_QUANTITY: dict[str, Quantity] = {"mm": "length", "bar": "pressure", "litres": "volume"}
_HELD: dict[Quantity, str] = {"length": "its size", "volume": "what it holds"}


def in_shop_units(text: str) -> str:
    """A sentence of the checks, which say mm, bar and litres, as the shop writes it."""
    if is_metric():
        return text
    text = _SAID_IN.sub(_said_in, text)
    text = _MM_RANGE.sub(lambda at: f"from {_fault_length(at[1])} to {_fault_length(at[2])}", text)
    text = _NO_BORE.sub(lambda at: _fault_length(at[1]), text)
    text = _MM_ALONE.sub(lambda at: _fault_length(at[1]), text)
    for of, quantity in _QUANTITY.items():
        text = re.sub(rf"\bin {of}\b", f"in {unit(quantity)}", text)
    return text


def _said_in(at: re.Match[str]) -> str:
    quantity = _QUANTITY[at[2]]
    said, least, most = (
        amount_words(float(text.replace(",", "")), quantity, shop_units())
        for text in at.groups()[2:]
    )
    lead = f"in {unit(quantity)}" if at[1] == "in" else _HELD[quantity]
    return f"{lead}: {said}. Enter from {least} to {most}."


def _fault_length(mm: str) -> str:
    value = float(mm.replace(",", ""))
    return f"{number(value / float(MM_IN_AN_INCH), 2)} in"


def litres(value: float) -> str:
    """A volume, to a tenth of a litre; small ones finer. Gallons to a hundredth."""
    if shop_units() != "metric":
        return amount_words(value, "volume", shop_units())
    return f"{number(value, 1 if value >= 1 else 2)} l"


def bar(value: float) -> str:
    """A pressure over that of the air."""
    if shop_units() != "metric":
        return amount_words(value, "pressure", shop_units())
    return f"{number(value, 2)} bar"


def temperature(celsius: float) -> str:
    """A temperature, to a degree: "-37 °C"."""
    return (
        amount_words(round(celsius), "temperature", "metric")
        if is_metric()
        else _fahrenheit(celsius)
    )


def _fahrenheit(celsius: float) -> str:
    return f"{round(celsius * 9 / 5 + 32)} °F"
