"""Picking a thing by its name: what stands in a pick list, and which thing a typed name means."""

import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from typing import Protocol

from webapp.build.folded_name import folded_name
from webapp.pages.words.quoted import shown

KEY_LENGTH = 40
RESERVED_KEYS = frozenset({"new"})
"""Keys that would hide a page's own address."""


LEAST_LETTERS = 3
"""Fewer than these are no part of a name: they are asked about."""
LISTED = 6
"""So many of those that a part of a name could mean are listed."""


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
    _folded: list[str] = field(default_factory=list, repr=False, compare=False)
    _words: list[str] = field(default_factory=list, repr=False, compare=False)
    _by_label: dict[str, list[str]] = field(default_factory=dict, repr=False, compare=False)
    _by_key: dict[str, list[str]] = field(default_factory=dict, repr=False, compare=False)
    # The labels as they are compared, their words with a space before each, and the keys of each
    # label and of each key so folded, from the first name that is looked for: a list from a
    # spreadsheet looks for thousands.

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

    def exactly(self, text: str) -> str | None:
        """The key whose label or name, or which itself, is the text; None where it is not one."""
        wanted = folded_name(text)
        if not self._folded:
            self._folded.extend(folded_name(label) for _, label in self.labels)
            self._words.extend(_spaced_words(folded) for folded in self._folded)
            for folded, (key, _) in zip(self._folded, self.labels, strict=True):
                self._by_label.setdefault(folded, []).append(key)
                self._by_key.setdefault(key.casefold(), []).append(key)
        by_label = self._by_label.get(wanted, [])
        if len(by_label) == 1:
            return by_label[0]
        by_key = self._by_key.get(wanted, [])
        return by_key[0] if len(by_key) == 1 else None

    def find(self, text: str) -> tuple[str | None, str]:
        """The key that a typed label, name or key means, or None and a sentence why not.

        Part of a name will do where it is part of one name alone: letters that stand together in
        it, or the beginnings of some of its words ("radiator br").
        """
        found = self.exactly(text)
        if found is not None:
            return found, ""
        near = self._near(folded_name(text))
        if len(near) == 1 and len(folded_name(text)) >= LEAST_LETTERS:
            return near[0][0], ""
        if len(near) == 1:
            label = near[0][1]
            return None, f"There is no {self.what} “{shown(text)}”. Do you mean “{label}”?"
        if near:
            first = ", ".join(f"“{label}”" for _, label in near[:LISTED])
            among = "among them " if len(near) > LISTED else ""
            return None, (
                f"“{shown(text)}” could be {len(near)} {self.what}s, {among}{first}."
                " Type more of its name, or pick one from the list."
            )
        return None, (
            f"There is no {self.what} “{shown(text)}”."
            f" Pick one from the list, or enter that {self.what} first."
        )

    def _near(self, wanted: str) -> list[tuple[str, str]]:
        """What a part of a name may mean: what holds it as it stands, else what has its words."""
        if not wanted:
            return []
        whole = [
            pair for pair, folded in zip(self.labels, self._folded, strict=True) if wanted in folded
        ]
        if whole:
            return whole
        beginnings = wanted.split()
        first = f" {beginnings[0]}"
        return [
            pair
            for pair, words in zip(self.labels, self._words, strict=True)
            if first in words and _begin_words(beginnings, words)
        ]


def _spaced_words(label: str) -> str:
    """The words of a label, with a space before each."""
    return "".join(f" {word}" for word in re.findall(r"\w+", label))


def _begin_words(beginnings: list[str], spaced: str) -> bool:
    """Whether each of `beginnings` begins a word, in the order they stand there."""
    words = iter(spaced.split())
    return all(any(word.startswith(beginning) for word in words) for beginning in beginnings)
