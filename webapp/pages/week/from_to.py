"""Which snapshots an address asks for: ?from=ID&to=ID, and &start=ID where nothing moved."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFor:
    """The names of both ends and of the start, "" where they were left out."""

    earlier: str
    later: str
    start: str


def _asked_for(request: Request) -> AskedFor:
    asked = request.query_params
    return AskedFor(
        earlier=asked.get("from", ""), later=asked.get("to", ""), start=asked.get("start", "")
    )


FromTo = Annotated[AskedFor, Depends(_asked_for)]
