"""What checks answer, as JSON: `checks` in the answer of `keyturn plumbing`."""

from collections.abc import Iterable
from typing import Any

from webapp.sizing.answers import Answer, Figure, Missing

Fields = dict[str, Any]


def checks_document(answers: Iterable[Answer]) -> list[Fields]:
    """One entry a check, numbers to three significant figures, lengths to a tenth of a mm.

    `limit` is what is ok, `tight_to` how far it is tight; both at most, or with `at_least` at
    least.
    """
    return [*map(_answer, answers)]


def _answer(one: Answer) -> Fields:
    limit = one.limit
    return {
        "check": one.check,
        "at": one.at,
        "circuit": one.circuit,
        "answer": one.words,
        "value": None if one.value is None else _short(one.value, one.unit),
        "unit": one.unit or None,
        "limit": None if limit is None else _short(limit.ok, one.unit),
        "tight_to": None if limit is None else _short(limit.tight, one.unit),
        "at_least": limit is not None and limit.at_least,
        "limit_from": None if limit is None else limit.words,
        "missing": list(one.gap.names) if isinstance(one.gap, Missing) else [],
        "inputs": [*map(_figure, one.used)],
        "also": [*map(_figure, one.also)],
        "remarks": list(one.remarks),
    }


def _figure(figure: Figure) -> Fields:
    value = figure.value if isinstance(figure.value, str) else _short(figure.value, figure.unit)
    fields: Fields = {"name": figure.name, "value": value}
    if figure.unit:
        fields["unit"] = figure.unit
    fields["from"] = figure.came
    if figure.source:
        fields["read"] = figure.source
    return fields


def _short(value: float, unit: str) -> float:
    """2 rather than 2.0, 32.4 rather than 32.4281."""
    rounded = round(value, 1) if unit == "mm" else float(f"{value:.3g}")
    return int(rounded) if rounded.is_integer() else rounded
