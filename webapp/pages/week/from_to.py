"""Which snapshots an address asks for: ?from=ID&to=ID, and &start=ID where nothing moved."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFor:
    """The names of both ends and of the start, "" where they were left out.

    `folded`: how the bridge splits is to be folded away.
    """

    earlier: str
    later: str
    start: str
    folded: bool


def _asked_for(request: Request) -> AskedFor:
    asked = request.query_params
    return AskedFor(
        earlier=asked.get("from", ""),
        later=asked.get("to", ""),
        start=asked.get("start", ""),
        folded=bool(asked.get("folded", "")),
    )


FromTo = Annotated[AskedFor, Depends(_asked_for)]
