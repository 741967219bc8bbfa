"""What the fields of forms are called in sentences, and what was typed into them."""

import re
from collections.abc import Iterable

from webapp.pages.forms.typed_values import parse_date
from webapp.pages.words.amounts import WEEKDAY_NAMES, day

LABELS = {
    "well": "hours if all goes well",
    "likely": "likely hours",
    "fights": "hours if it fights you",
    "rough_well": "roughing in, if all goes well",
    "rough_likely": "roughing in, likely",
    "rough_fights": "roughing in, if it fights you",
    "later_extra": "extra hours if it is fitted later",
    "certain": "whether the likely hours are certain",
    "setup_out": "setup that is out",
    "on": "day",
    "text": "wish",
    "document": "build document",
    "serves": "needed by the task",
    "part_days": "days until the part is here",
    "part_cost": "cost of the part",
    "lead_days": "days until it is here",
    "space_litres": "room it takes, litres",
    "arrives_on": "expected on",
    "sure": "the hours are right",
    "way": "decided as",
    "first_size": "size",
    "port_size": "size",
    "other_size": "size of the other end",
    "length_mm": "length",
    "of": "made of",
    "wall_mm": "wall",
    "bore_mm": "bore",
    "own_name": "its own name",
    "end_a": "first end",
    "size_a": "size of the first end",
    "end_b": "other end",
    "size_b": "size of the other end",
    "stop": "what shuts it",
    "stop_on": "on since",
    "from_port": "where it begins",
    "to_port": "where it ends",
    "why": "reason",
}
"""What a field is called whose name is no word itself."""
UNSEEN = frozenset({"shown", "key", "run", "then", "figures", "keep", "more", "viewport"})
"""Fields that nobody types: they are on no screen."""
PICKED = frozenset({"task", "subsystem", "setup", "setup_out", "size", "medium", "way", "finished"})
"""Fields of which a list or a button gives the value."""
_ROW = re.compile(r"(?P<stem>[a-z_]+?)(-(?P<day>[0-6])(?=-))?(-(?P<row>[0-9]{1,6}))?")


def label_of(name: str) -> str:
    """A field's name in words."""
    words = LABELS.get(name, name.partition("-")[0].replace("_", " "))
    return words[:1].upper() + words[1:]


def typed_in_words(fields: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """What a person typed, each field by its label, of a row with the row's number.

    What the names of a list stand for is not known here: a value picked from one is told by its
    key, spaces for its dashes.
    """
    return [
        (_label_in_row(name), _value_in_words(name, value))
        for name, value in fields
        if value.strip() and name.partition("-")[0] not in UNSEEN
    ]


def _label_in_row(name: str) -> str:
    found = _ROW.fullmatch(name)
    if found is None:
        return label_of(name)
    label = label_of(LABELS.get(found["stem"], found["stem"]))
    of_day = f", {WEEKDAY_NAMES[int(found['day'])]}" if found["day"] else ""
    return f"{label}{of_day}" + (f", row {int(found['row']) + 1}" if found["row"] else "")


def _value_in_words(name: str, value: str) -> str:
    date = parse_date(value.strip())
    if date is not None:
        return f"{day(date, today=date)} {date.year}"
    if value == "on":
        return "yes"
    if name.partition("-")[0] in PICKED:
        return value.replace("_", " ").replace("-", " ")
    return value
