"""How sizes, lengths, volumes, pressures and the names of things are written on the screen.

The one place for it: everything of plumbing that has a unit passes through here. Millimetres,
litres and bar as yet; what is held is in those whatever is written.
"""

from webapp.build.plumbing import HARD, End, EndKind, Size
from webapp.pages.words.amounts import number
from webapp.plumbing.ends import Joining, end_size_words
from webapp.plumbing.needs import MM_IN_A_METRE, Need

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


def size(of: Size | None) -> str:
    """A size by itself: "38", "M16x1.5", "not measured"."""
    if of is None:
        return "not measured"
    return of if isinstance(of, str) else number(of, 1)


def end(of: End, *, is_hard: bool = False) -> str:
    """What an end is called: "bead 38", "male thread M16x1.5", "bead, not measured"."""
    kind = END_WORDS.get(of.kind, of.kind)
    if of.kind == "open":
        return "open end"
    if of.size is None:
        return f"{kind.rstrip(',')}, not measured"
    return f"{kind} {end_size_words(of, is_hard=is_hard)}"


def joined_end(side: Joining) -> str:
    """An end as a joint sees it."""
    return end(side.end, is_hard=side.piece in HARD)


def called(name: str) -> str:
    """A thing by its name on the buy list and the shelf, as the screen writes it."""
    for kind, said in END_WORDS.items():
        if "_" in kind:
            name = name.replace(kind, said.replace(",", ""))
    return name


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
    """A length: "640 mm", from a metre on "1.24 m"."""
    if mm < METRE_FROM_MM:
        return f"{number(mm, 1)} mm"
    return f"{number(mm / MM_IN_A_METRE, 3)} m"


def diameter(mm: float) -> str:
    """A diameter that was worked out, to a tenth."""
    return f"{number(mm, 1)} mm"


def litres(value: float) -> str:
    """A volume, to a tenth of a litre; small ones finer."""
    return f"{number(value, 1 if value >= 1 else 2)} l"


def bar(value: float) -> str:
    """A pressure over that of the air."""
    return f"{number(value, 2)} bar"
