"""What a check answers: a word, the number, the limit it was held against, and the inputs.

A check is a sum on steady flow in a clean pipe: pulses, kinks and squashed bends are not in it.
No word says that something is without danger, and what lies outside of a formula's range is not
answered.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal

from webapp.build.data_sheet import CheckName, FigureName

Word = Literal[
    "ok",
    "tight",
    "too small",
    "too hot",
    "too long",
    "too short",
    "too high",
    "too weak",
    "not checked",
]
Origin = Literal["typed", "published", "practice"]
Came = Literal["worked out", "drawn", "typed", "assumed"]
"""Where a figure of an answer is from: a sum, the drawing, the data sheet, common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What a number is held against: ok to `ok`, tight to `tight`, beyond it neither.

    `origin` is who says so: a figure that was typed in, a published one, or common practice
    without a source; `source` names it. The person's own goes before any other. `at_least`: the
    number has to be so much at least, and is at most in all others. `instead_of` is the usual
    limit that it goes before.
    """

    ok: float
    tight: float
    origin: Origin = "practice"
    source: str = ""
    at_least: bool = False
    instead_of: "Limit | None" = None

    @property
    def words(self) -> str:
        """Where it comes from."""
        if self.origin == "practice":
            return "common practice, no source"
        return self.source if self.origin == "published" else f"typed in: {self.source}"


def held(own: Limit | None, usual: Limit) -> Limit:
    """The person's own limit, which remembers the usual one; else the usual one."""
    return usual if own is None else replace(own, instead_of=usual)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A number or a word that an answer was made from, or that comes with it.

    `came` says where it is from, `source` where a typed one was read.
    """

    name: str
    value: float | str
    unit: str = ""
    came: Came = "worked out"
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """What has to be typed in or drawn before there is an answer, each by its name.

    `figures` are those of the data sheet that it would be typed into, `at` the run, the
    component, the wire or the belt where it is to be said.
    """

    names: tuple[str, ...]
    figures: tuple[FigureName, ...] = ()
    at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outside:
    """A figure that lies outside of what a formula is valid for; `value` None where nobody can
    say it. `words` where its range does not say enough."""

    name: str
    least: float
    most: float
    unit: str = ""
    value: float | None = None
    words: str = ""


Gap = Missing | Outside
"""Why there is no answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A figure and from where to where a formula holds for it."""

    name: str
    value: float
    least: float
    most: float
    unit: str = ""


def first_outside(*ranges: Range) -> Outside | None:
    """The first figure that lies outside of its range; a number that is none lies outside too."""
    for one in ranges:
        if not one.least <= one.value <= one.most:
            return Outside(
                name=one.name, least=one.least, most=one.most, unit=one.unit, value=one.value
            )
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What one check says of one place: a run, a component, a circuit, a wire, a belt.

    `value` is None where nothing is given: not checked, or so far beyond a limit that the formula
    holds no more. `also` are further numbers of the same sum, `remarks` whole sentences.
    """

    check: CheckName
    at: str
    word: Word
    value: float | None = None
    unit: str = ""
    limit: Limit | None = None
    used: tuple[Figure, ...] = ()
    also: tuple[Figure, ...] = ()
    remarks: tuple[str, ...] = ()
    gap: Gap | None = None
    because: str = ""
    circuit: str | None = field(default=None)

    @property
    def words(self) -> str:
        """The answer as it is said: "ok", "not checked: the boost is missing"."""
        if self.word != "not checked":
            return self.word
        return f"not checked: {self.because or _gap_words(self.gap)}"

    def within(self, circuit: str | None) -> "Answer":
        """The same answer as one about a circuit."""
        return replace(self, circuit=circuit)

    def marked(self, came: Came, *names: str) -> "Answer":
        """The same answer; its inputs of these names are from there."""
        used = tuple(replace(one, came=came) if one.name in names else one for one in self.used)
        return replace(self, used=used)


def not_checked(check: CheckName, at: str, gap: Gap, used: tuple[Figure, ...] = ()) -> Answer:
    """That there is no answer, and what is in its way."""
    return Answer(check=check, at=at, word="not checked", gap=gap, used=used)


def no_sum(check: CheckName, at: str, because: str, *remarks: str) -> Answer:
    """That there is no answer, and why, where no figure is to blame."""
    return Answer(check=check, at=at, word="not checked", because=because, remarks=remarks)


def most(value: float, limit: Limit, past: Word = "too small") -> Word:
    """The word for a number that may be so much at most."""
    if value <= limit.ok:
        return "ok"
    return "tight" if value <= limit.tight else past


def least(value: float, limit: Limit, short: Word = "too small") -> Word:
    """The word for a number that has to be so much at least."""
    if value >= limit.ok:
        return "ok"
    return "tight" if value >= limit.tight else short


_RANK: tuple[Word, ...] = ("ok", "tight")


def worse(words: Iterable[Word]) -> Word:
    """The worst of several words; ok where there is none."""
    found: Word = "ok"
    for word in words:
        if word not in _RANK:
            return word
        if word == "tight":
            found = "tight"
    return found


def _gap_words(gap: Gap | None) -> str:
    if isinstance(gap, Missing):
        names = [f"the {name}" for name in gap.names]
        if len(names) == 1:
            return f"{names[0]} is missing"
        return f"{', '.join(names[:-1])} and {names[-1]} are missing"
    if isinstance(gap, Outside):
        if gap.words:
            return gap.words
        unit = f" {gap.unit}" if gap.unit else ""
        said = "" if gap.value is None else f" of {gap.value:.3g}{unit}"
        return f"the {gap.name}{said} lies outside {gap.least:g} to {gap.most:g}{unit}"
    return "nothing to check it by"
