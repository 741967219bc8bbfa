"""What was typed into a form, as text."""

from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData

FIELD_LIMIT = 60_000


async def typed_form(request: Request) -> FormData:
    """Every field of the posted form; a depends-on for plain `def` endpoints."""
    return await request.form(max_files=10, max_fields=FIELD_LIMIT)


Typed = Annotated[FormData, Depends(typed_form)]


def text_of(form: FormData, name: str) -> str:
    """One field's text, trimmed; "" when it is not there or is a file."""
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""
