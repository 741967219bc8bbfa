"""Reads one object of a document against its model: what is good is kept, what is not is told."""

import difflib
from collections.abc import Mapping
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing, shown
from webapp.exchange.document_values import found

AnyEntry = TypeVar("AnyEntry", bound=BaseModel)
Fields = dict[str, object]


def read_entry(
    model: type[AnyEntry],
    raw: Fields,
    thing: Thing,
    faults: list[Fault],
    *,
    stand_ins: Mapping[str, object],
    spot: str | None = None,
    known: type[BaseModel] | None = None,
) -> AnyEntry | None:
    """The entry, with `stand_ins` or the default in place of every field that is refused.

    None where a field is refused that has neither: the entry cannot be kept. `spot` is the
    field that the faults carry, where it is not the refused field itself. `known` is the model
    whose fields are offered for an unknown one, where `model` is only a part of it.
    """
    try:
        return model.model_validate(raw)
    except ValidationError as error:
        mended = dict(raw)
        for detail in error.errors(include_url=False):
            field = str(detail["loc"][0])
            words = _words(known or model, detail["type"], field, detail["msg"])
            faults.append(thing.fault(spot or _name_of(model, field), words))
            mended.pop(field, None)
            if field in stand_ins:
                mended[field] = stand_ins[field]
    try:
        return model.model_validate(mended)
    except ValidationError:
        return None


def _name_of(model: type[BaseModel], field: str) -> str:
    """The name a build's field has inside the program: `for` is `serves`."""
    names = {info.alias: name for name, info in model.model_fields.items() if info.alias}
    return shown(names.get(field, field))


def _words(model: type[BaseModel], kind: str, field: str, refusal: str) -> str:
    name = f'"{shown(field)}"'
    if kind == "missing":
        return f"{name} is missing. Add it."
    if kind == "extra_forbidden":
        known = [info.alias or name for name, info in model.model_fields.items()]
        near = difflib.get_close_matches(field[:100], known, n=1, cutoff=0.5)
        remedy = f'Did you mean "{near[0]}"?' if near else f"Known are {', '.join(known)}."
        return f"the field {name} is unknown. {remedy} Rename it or take it out."
    return f"{name} {refusal}"


def thing_of(kind: str, raw: Fields, position: int) -> Thing:
    """What faults call an entry: its name and key where it has them, else its place."""
    name, key = plain(raw.get("name")), plain(raw.get("key"))
    return Thing(kind=kind, key=key, name=name if name or key else f"number {position}")


def plain(value: object) -> str:
    """A text without halves of characters, which no answer could carry."""
    return value.encode(errors="replace").decode() if isinstance(value, str) else ""


def read_list(
    raw: Fields, field: str, thing: Thing, faults: list[Fault], unread: set[str]
) -> list[tuple[int, Fields]]:
    """The objects of a list with their places from 1; `unread` gets its name if it is none."""
    value = raw.get(field)
    if value is None:
        return []
    if not isinstance(value, list):
        words = f'"{field}" must be a list of objects, not {found(value)}.'
        faults.append(thing.fault(field, words))
        unread.add(field)
        return []
    for position, entry in enumerate(value, start=1):
        if not isinstance(entry, dict):
            words = (
                f'number {position} in "{field}" must be an object in curly braces, '
                f"not {found(entry)}."
            )
            faults.append(thing.fault(field, words))
    return [(n, entry) for n, entry in enumerate(value, start=1) if isinstance(entry, dict)]


def read_object(raw: Fields, field: str, thing: Thing, faults: list[Fault]) -> Fields | None:
    """One object of the document, None where it is missing or no object."""
    value = raw.get(field)
    if isinstance(value, dict):
        return value
    missing = f'"{field}" is missing. Add it: an object with its fields.'
    wrong = f'"{field}" must be an object with its fields, not {found(value)}.'
    faults.append(thing.fault(field, missing if value is None else wrong))
    return None
