"""The usual components that come with the program, from JSON (`seed_data/plumbing`)."""

import json

from webapp.build.usual_components import UsualComponent, UsualPort


def read_usual_components(text: bytes) -> tuple[UsualComponent, ...]:
    """The components of the file, in its order."""
    return tuple(
        UsualComponent(
            kind=entry["kind"],
            name=entry["name"],
            licensed=entry.get("licensed", ""),
            ports=tuple(UsualPort(**port) for port in entry["ports"]),
        )
        for entry in json.loads(text)
    )
