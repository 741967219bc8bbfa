"""What was typed into a form of plumbing, told with its labels where the form has nothing to stand
on any more."""

import re
from collections.abc import Iterable, Mapping
from typing import cast

from webapp.build.plumbing import EndKind
from webapp.pages.words.plumbing_drawn import (
    FLOW_WORDS,
    PIECE_WORDS,
    ROLE_WORDS,
    STOP_WORDS,
    end_word,
)

LABELS: Mapping[str, str] = {
    "piece": "What it is",
    "number": "Number",
    "first_size": "Size",
    "other_size": "Size of the other end",
    "other_end": "Its other end",
    "length_mm": "Length",
    "angle": "Angle",
    "own_name": "Its own name",
    "of": "Made of",
    "wall_mm": "Wall",
    "bore_mm": "Bore",
    "arrow": "Arrow on it",
    "end_a": "First end",
    "size_a": "Size of the first end",
    "end_b": "Other end",
    "size_b": "Size of the other end",
    "port_size": "Size",
    "end": "End",
    "name": "Name",
    "flow": "Flow",
    "role": "Role",
    "circuit": "Circuit",
    "of_circuit": "Circuit",
    "shuts": "It may shut",
    "stop": "It is shut by",
    "stop_on": "On since",
    "on": "On the day",
    "from_port": "It begins at",
    "to_port": "It ends at",
    "begins": "It begins at",
    "ends": "It ends at",
    "licensed": "Licensed work",
    "litres": "Litres",
    "part": "The part it comes as",
    "medium": "Medium",
    "subsystem": "Subsystem",
    "highest": "Highest point",
    "hose": "Hose",
    "tube": "Tube",
    "bar": "Pressure",
    "test": "Test",
    "needed_to_start": "Needed to start",
    "holds": "What waits for it",
    "reason": "The reason",
    "measured": "Measured",
    "give": "Give or take",
    "thing": "Piece or gap",
    "mm": "How deep",
    "kind": "It is a",
    "count": "How many",
    "low": "From",
    "high": "To",
    "at_mm": "So far into the piece",
    "tee": "Name of the T",
    "passage": "Joined inside",
    "length": "Length",
    "price": "Price",
    "own": "How many",
    "kerf": "Kerf",
    "amount": "Likely hours",
    "each": "Hours for one",
    "task": "Task",
}
"""What stands beside the fields of these forms, by their names; what is not here nobody types."""
_KINDS: Mapping[str, Mapping[str, str]] = {
    "piece": cast(Mapping[str, str], PIECE_WORDS),
    "flow": cast(Mapping[str, str], FLOW_WORDS),
    "role": cast(Mapping[str, str], ROLE_WORDS),
    "stop": cast(Mapping[str, str], STOP_WORDS),
}
_ENDS = ("end", "end_a", "end_b", "other_end")
_ROW = re.compile(r"([a-z_]+)-(.{1,40})")


def typed_told(fields: Iterable[tuple[str, str, str]]) -> tuple[tuple[str, str], ...]:
    """Label and text of each field of which a form says something else than it was shown with.

    `fields` are its name, its text, and the text it was shown with.
    """
    told = []
    for name, text, shown in fields:
        row = _ROW.fullmatch(name)
        stem = row[1] if row else name
        if stem not in LABELS or not text.strip() or text == shown:
            continue
        label = LABELS[stem] if row is None else f"{LABELS[stem]}, {_row_said(row[2])}"
        told.append((label, _value(stem, text)))
    return tuple(told)


def _row_said(row: str) -> str:
    """Which row it is: counted from 1, or what it is called."""
    return str(int(row) + 1) if row.isdecimal() else row.replace("-", " ")


def _value(stem: str, text: str) -> str:
    if stem in _ENDS:
        return end_word(cast(EndKind, text))
    return _KINDS.get(stem, {}).get(text, text)
