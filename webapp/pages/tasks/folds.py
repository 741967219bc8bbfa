"""The form of a task by kind: what is used most stands open, the rest is folded.

A folded field is sent like any other, so folding changes nothing of what a form says. A fold is
open where one of its fields is wrong, and where more rows were asked for.
"""

import re
from collections.abc import Iterable, Iterator

from webapp.pages.forms.typed_form import TypedForm

FOLDS = {
    "what": ("name", "subsystem", "space_litres"),
    "takes": ("people", "setup", "station", "other_station", "other_count", "helper", "in_one_go"),
    "money": ("cost", "paid", "offer_cost", "offer_days"),
    "before": ("before", "wait", "why"),
    "after": ("after", "after_wait", "after_why"),
    "parts": ("part",),
    "words": ("caution", "notes"),
    "steps": ("step", "ticked", "more_steps", "more_before"),
    "torque": ("torque", "torque_value"),
    "size": ("size", "size_value"),
}
"""The fields of each fold; those of rows by their stem."""
ROW_FOLDS = {
    "before": "before",
    "after": "after",
    "parts": "part",
    "steps": "step",
    "torque": "torque",
    "size": "size",
}
"""The folds that hold a list, with the stem of the field that a row is counted by."""


def open_folds(form: TypedForm, also: Iterable[str] = ()) -> frozenset[str]:
    """Which folds are to be seen open: nothing that is to be mended stays folded away.

    `also` are those that were worked in.
    """
    wrong = {_stem(fault.field) for fault in form.faults}
    opened = {fold for fold, stems in FOLDS.items() if wrong.intersection(stems)}
    return frozenset(opened.union(also))


def filled(form: TypedForm, stem: str) -> int:
    """How many rows of a list say something."""
    return sum(bool(text.strip()) for text in _texts(form, stem))


def _texts(form: TypedForm, stem: str) -> Iterator[str]:
    return (form.typed(f"{stem}-{row}") for row in form.row_numbers(stem))


def _stem(field: str) -> str:
    return re.sub(r"-[0-9]+$", "", field)
