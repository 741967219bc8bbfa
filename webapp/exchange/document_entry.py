"""What every object of a document is made of: its base, and how its fields are told of."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, WithJsonSchema


class Entry(BaseModel):
    """One object of the document; fields it does not know are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def said(words: str, default: object = None) -> Any:
    """A field that may be left out, and what it says."""
    return Field(default=default, description=words)


def many(words: str, most: int) -> Any:
    """A list that may be left out and holds so many at most; what is more is told as a fault."""
    return Field(default=(), description=words, json_schema_extra={"maxItems": most})


def between(least: float, most: float) -> WithJsonSchema:
    """What the schema says of a number."""
    return WithJsonSchema({"type": "number", "minimum": least, "maximum": most})


def whole_between(least: int, most: int) -> WithJsonSchema:
    """What the schema says of a whole number."""
    return WithJsonSchema({"type": "integer", "minimum": least, "maximum": most})
