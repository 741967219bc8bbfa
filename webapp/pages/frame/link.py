"""A name that leads somewhere."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Something by its name, and the address it leads to."""

    name: str
    address: str
