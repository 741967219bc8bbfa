"""Faults of ends: what no port can be called, and sizes that no such end can have."""

from collections.abc import Iterator

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing, number_words, shown
from webapp.build.limits import (
    LEAST_SIZE_MM,
    MOST_PLUMBING_KEY_CHARACTERS,
    MOST_SIZE_MM,
    MOST_SIZE_NAME_CHARACTERS,
)
from webapp.build.plumbing import BY_MM, THREADED, EndKind, Size
from webapp.build.threads import WRITTEN_AS, thread_of

SIZES_IN_WORDS = f"from {number_words(LEAST_SIZE_MM)} to {number_words(MOST_SIZE_MM)} mm"


def end_faults(thing: Thing, field: str, kind: EndKind, size: Size | None) -> Iterator[Fault]:
    """What is wrong with an end; a size that is not measured yet is no fault."""
    if size is None or kind == "open":
        return
    called = kind.replace("_", " ")
    if isinstance(size, str):
        yield from _name_faults(thing, field, kind, size)
    elif kind in THREADED:
        yield thing.fault(
            field, f"{number_words(size)} is no thread: write {WRITTEN_AS}, as it is marked."
        )
    elif not LEAST_SIZE_MM <= size <= MOST_SIZE_MM:
        yield thing.fault(
            field, f"{number_words(size)} mm is no size of a {called}: {SIZES_IN_WORDS}."
        )


def _name_faults(thing: Thing, field: str, kind: EndKind, size: str) -> Iterator[Fault]:
    if kind in BY_MM:
        called = kind.replace("_", " ")
        yield thing.fault(
            field,
            f"“{shown(size)}” is no size of a {called}: measure it, {SIZES_IN_WORDS}.",
        )
    elif kind in THREADED and thread_of(size) is None:
        yield thing.fault(field, f"“{shown(size)}” is no thread: write {WRITTEN_AS}.")
    elif not size.strip() or len(size) > MOST_SIZE_NAME_CHARACTERS:
        yield thing.fault(
            field,
            f"the size “{shown(size)}” is no name. Enter one of at most "
            f"{MOST_SIZE_NAME_CHARACTERS} characters, or leave it out until it is measured.",
        )
    else:
        yield from thing.text_faults(field, size)


def plumbing_key_faults(
    thing: Thing, field: str = "key", key: str | None = None
) -> Iterator[Fault]:
    """A key, or the name of a port, that can be no part of the address of a port."""
    key = thing.key if key is None else key
    if "." in key:
        yield thing.fault(
            field, f"the {field} has a dot, which parts a component from its port. Leave it out."
        )
    if len(key) > MOST_PLUMBING_KEY_CHARACTERS:
        yield thing.fault(
            field,
            f"the {field} has {len(key):,} characters. Shorten it to "
            f"{MOST_PLUMBING_KEY_CHARACTERS} at most.",
        )
