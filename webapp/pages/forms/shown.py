"""What a form shows: the text of each field, and the exact value that it stands for."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from webapp.build.build_input import Moment
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_values import clock_text, date_text, number_text, parse_date
from webapp.pages.words.amounts import day

Said = Callable[[str, str], str]
"""How a text of a field is said in a sentence, the first, that names the second beside it."""


def as_typed(text: str, _beside: str) -> str:
    return text


def said_as_day(text: str, beside: str) -> str:
    """A date in words, with its year where that tells it from the other one."""
    date, other = parse_date(text), parse_date(beside)
    return text if date is None else day(date, today=other or date)


def said_as_tick(text: str, _beside: str) -> str:
    return "yes" if text else "no"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownField:
    """One field: its text, the value that was written so, and how its texts are said in a sentence.

    A field that is posted with the text it was shown with means `value` itself, whatever digits,
    spaces or times of day the text leaves out. `label` is what a sentence calls it where its name
    alone does not tell it from others.
    """

    text: str
    value: object
    said: Said = as_typed
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """A list in a form whose rows can be told apart: fields "stem-N" with the same N are a row.

    `identity` is the stem that says what a row is about: two rows with the same text there are
    the same row; "" where only all of a row tells it from another. The first stem is what a
    person calls the row by.
    """

    stems: tuple[str, ...]
    identity: str = ""

    @property
    def counted(self) -> str:
        """The stem that every row has a field of."""
        return self.stems[0]


@dataclass(slots=True)
class Shown:
    """The fields of a form as they are opened, gathered one after the other."""

    fields: dict[str, ShownField] = field(default_factory=dict)

    @property
    def texts(self) -> Mapping[str, tuple[str, ...]]:
        """The texts of all fields, as `TypedForm` takes them."""
        return {name: (one.text,) for name, one in self.fields.items()}

    def is_tick(self, name: str) -> bool:
        """Whether a field is a box to tick, of which a browser sends nothing where it is not."""
        return name in self.fields and self.fields[name].said is said_as_tick

    def has_ticks(self, stem: str) -> bool:
        """Whether the rows of a list have a box to tick in their fields "stem-N"."""
        return any(name.rpartition("-")[0] == stem and self.is_tick(name) for name in self.fields)

    def add(self, name: str, text: str, value: object, said: Said = as_typed) -> Self:
        """A field with its text, its value, and how it is said in words."""
        self.fields[name] = ShownField(text=text, value=value, said=said)
        return self

    def text(self, name: str, value: str) -> Self:
        """A line of text: in a field it stands on one line, whatever it holds."""
        return self.add(name, " ".join(value.split()), value)

    def long_text(self, name: str, value: str) -> Self:
        """Text of several lines."""
        return self.add(name, value, value)

    def number(self, name: str, value: float | None) -> Self:
        return self.add(name, number_text(value), value)

    def number_or_blank(self, name: str, value: float) -> Self:
        """A number of which nothing typed means 0."""
        return self.add(name, number_text(value or None), value)

    def clock(self, name: str, hours: float | None) -> Self:
        """Hours that were worked, as a clock shows them: "1:20", "0:05"."""
        return self.add(name, clock_text(hours), hours)

    def whole(self, name: str, value: int) -> Self:
        return self.add(name, str(value), value)

    def points(self, names: tuple[str, str, str], hours: ThreePoint | None) -> Self:
        """Three fields of an estimate; where all three are equal the likely hours stand alone."""
        points: tuple[float | None, ...] = (None, None, None)
        if hours is not None:
            points = (hours.optimistic, hours.most_likely, hours.pessimistic)
            if hours == ThreePoint.certain(hours.most_likely):
                points = (None, hours.most_likely, None)
        for name, value in zip(names, points, strict=True):
            self.number(name, value)
        return self

    def date(self, name: str, value: Moment | dt.date | None) -> Self:
        return self.add(name, date_text(value), value, said_as_day)

    def tick(self, name: str, value: bool) -> Self:
        return self.add(name, "on" if value else "", value, said_as_tick)

    def choice(self, name: str, key: str | None, label: Callable[[str], str] = str) -> Self:
        """One of a list of keys; `label` gives what the list calls each."""
        return self.add(name, key or "", key, lambda text, _: label(text) if text else "none")

    def pick(self, name: str, key: str | None, label: str) -> Self:
        """A thing named by typing; `label` is what is typed for it."""
        return self.add(name, " ".join(label.split()), key)

    def pick_rows(self, stem: str, keys: Sequence[str], picks: PickList, blanks: int) -> Self:
        """A list of things named by typing, with fields for so many more of them."""
        for row, key in enumerate(keys):
            self.pick(f"{stem}-{row}", key, picks.label(key))
        return self.blank(*(f"{stem}-{len(keys) + row}" for row in range(blanks)))

    def called(self, label: str, *names: str) -> Self:
        """What sentences call these fields: "Weld the neck, likely hours"."""
        for name in names:
            self.fields[name] = replace(self.fields[name], label=label)
        return self

    def blank(self, *names: str) -> Self:
        """Fields that are there to be filled in."""
        for name in names:
            self.add(name, "", None)
        return self
