"""Which two snapshots an address asks for: ?from=ID&to=ID."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFor:
    """The names of both ends, "" where they were left out."""

    earlier: str
    later: str


def _asked_for(request: Request) -> AskedFor:
    asked = request.query_params
    return AskedFor(earlier=asked.get("from", ""), later=asked.get("to", ""))


FromTo = Annotated[AskedFor, Depends(_asked_for)]
