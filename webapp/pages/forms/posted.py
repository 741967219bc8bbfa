"""What was typed into a form, as text."""

from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData

FIELD_LIMIT = 60_000
TOKEN_FIELD = "once"
"""Put into every form by the frame, and of no concern to what was typed."""


async def typed_form(request: Request) -> FormData:
    """Every field of the posted form but the token of the frame; for plain `def` endpoints."""
    posted = await request.form(max_files=10, max_fields=FIELD_LIMIT)
    return FormData([item for item in posted.multi_items() if item[0] != TOKEN_FIELD])


Typed = Annotated[FormData, Depends(typed_form)]


def text_of(form: FormData, name: str) -> str:
    """One field's text, trimmed; "" when it is not there or is a file."""
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


MOST_DIGITS = 12


def whole_number(text: str) -> int:
    """A number that an address or a hidden field says; 0 where it says none."""
    plain = text.isascii() and text.isdecimal() and len(text) <= MOST_DIGITS
    return int(text) if plain else 0


def page_number(text: str) -> int:
    """Which page of a long list an address asks for, counted from 1: the first for what is none."""
    return whole_number(text) or 1
