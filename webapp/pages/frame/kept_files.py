"""Files of a build that a browser keeps; large ones are sent while they are being made."""

from collections.abc import Iterable, Iterator

from fastapi.responses import StreamingResponse

PACKET_CHARACTERS = 64_000
"""What is sent at a time is at least so long: each time costs as much as to make a page's worth."""


def to_keep(slug: str, ending: str) -> dict[str, str]:
    """The header that has the browser keep the answer as a file, named after the build."""
    plain = "".join(c for c in slug if c.isascii() and (c.isalnum() or c == "-")) or "build"
    return {"Content-Disposition": f'attachment; filename="{plain}{ending}"'}


def streamed(pieces: Iterable[str], media_type: str, headers: dict[str, str]) -> StreamingResponse:
    """The answer that sends the pieces, of whatever length they are, as they come.

    Never is the whole of it held.
    """
    return StreamingResponse(packets(pieces), media_type=media_type, headers=headers)


def packets(pieces: Iterable[str]) -> Iterator[str]:
    """The same text in pieces of at least `PACKET_CHARACTERS`, the last one apart."""
    held: list[str] = []
    characters = 0
    for piece in pieces:
        held.append(piece)
        characters += len(piece)
        if characters >= PACKET_CHARACTERS:
            yield "".join(held)
            held, characters = [], 0
    if held:
        yield "".join(held)
