"""Picking a thing by its name: what stands in a pick list, and which thing a typed name means."""

import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Protocol

from webapp.pages.words.quoted import shown

KEY_LENGTH = 40
RESERVED_KEYS = frozenset({"new"})
"""Keys that would hide a page's own address."""


class Named(Protocol):
    """Anything with a key and a name."""

    @property
    def key(self) -> str: ...

    @property
    def name(self) -> str: ...


def new_key(name: str, taken: Collection[str]) -> str:
    """A key made from a name: plain small letters and digits, unlike every key in `taken`."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:KEY_LENGTH].strip("-") or "item"
    key, number = stem, 1
    while key in taken or key in RESERVED_KEYS:
        number += 1
        key = f"{stem}-{number}"
    return key


@dataclass(frozen=True, slots=True, kw_only=True)
class PickList:
    """The things of one kind that can be picked; `labels` pairs each key with its label.

    A label is the thing's name; where two share a name, the key stands behind it in brackets.
    """

    what: str
    labels: tuple[tuple[str, str], ...]

    @classmethod
    def of(cls, what: str, things: Iterable[Named]) -> "PickList":
        """The pick list of `things`, called `what` ("task", "part") in sentences."""
        listed = tuple(things)
        times = Counter(thing.name.casefold() for thing in listed)
        return cls(
            what=what,
            labels=tuple(
                (t.key, t.name if times[t.name.casefold()] == 1 else f"{t.name} ({t.key})")
                for t in listed
            ),
        )

    def label(self, key: str) -> str:
        """The label of a key; the key itself where there is no such thing."""
        return dict(self.labels).get(key, key)

    def find(self, text: str) -> tuple[str | None, str]:
        """The key that a typed label, name or key means, or None and a sentence why not."""
        wanted = " ".join(text.split()).casefold()
        by_label = [key for key, label in self.labels if label.casefold() == wanted]
        if len(by_label) == 1:
            return by_label[0], ""
        by_key = [key for key, _ in self.labels if key.casefold() == wanted]
        if len(by_key) == 1:
            return by_key[0], ""
        near = [label for _, label in self.labels if wanted in label.casefold()]
        if len(near) == 1:
            return None, f"There is no {self.what} “{shown(text)}”. Do you mean “{near[0]}”?"
        if near:
            first = ", ".join(f"“{label}”" for label in near[:3])
            return None, (
                f"“{shown(text)}” could be {len(near)} {self.what}s, among them {first}."
                " Pick one from the list."
            )
        return None, (
            f"There is no {self.what} “{shown(text)}”."
            f" Pick one from the list, or enter that {self.what} first."
        )
