"""From the entries of a document to the nouns they tell of."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from webapp.exchange.document_entry import Entry

Noun = TypeVar("Noun")


def said_of(entry: Entry) -> dict[str, Any]:
    """The fields of an entry; what is null or left out is left to the noun's own default."""
    said = ((name, getattr(entry, name)) for name in entry.model_fields_set)
    return {name: value for name, value in said if value is not None}


def nouns(noun: Callable[..., Noun], entries: Sequence[Entry] | None) -> tuple[Noun, ...]:
    """One noun of each entry."""
    return tuple(noun(**said_of(entry)) for entry in entries or ())
