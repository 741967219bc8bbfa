"""The shelf: what is put there, corrected, taken away; and what a part is to bring."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import Thing
from webapp.build.edited import Edited
from webapp.build.plumbing import Ordered, ShelfThing
from webapp.build.verbs.plumbing_edits import lost, plumbed_edit, refused


def put_on_shelf(build: BuildInput, *things: ShelfThing) -> Edited[None]:
    """With more on the shelf; what lies there already is counted up."""
    shelf = gathered((*build.plumbing.shelf, *things))
    return plumbed_edit(build, replace(build.plumbing, shelf=shelf), None)


def change_on_shelf(
    build: BuildInput, place: int, was: ShelfThing, thing: ShelfThing
) -> Edited[None]:
    """With the line at a place of the shelf (from 0) corrected; refused where it is not `was`."""
    shelf = build.plumbing.shelf
    if not _is_there(shelf, place, was):
        return refused(build, None, _gone(was))
    changed = (*shelf[:place], thing, *shelf[place + 1 :])
    return plumbed_edit(build, replace(build.plumbing, shelf=changed), None)


def take_from_shelf(build: BuildInput, place: int, was: ShelfThing) -> Edited[None]:
    """Without the line at a place of the shelf (from 0); refused where it is not `was`."""
    shelf = build.plumbing.shelf
    if not _is_there(shelf, place, was):
        return refused(build, None, _gone(was))
    left = (*shelf[:place], *shelf[place + 1 :])
    return plumbed_edit(build, replace(build.plumbing, shelf=left), None)


def part_brings(build: BuildInput, part: str, lines: Iterable[Ordered]) -> Edited[str]:
    """With what a part is to bring for the plumbing, in place of what was said of that before.

    What all parts bring stands in the order of the parts.
    """
    if find_by_key(build.parts, part) is None:
        return lost(build, "part", part, part)
    others = [one for one in build.plumbing.ordered if one.part != part]
    both = [*others, *(replace(line, part=part) for line in lines)]
    place = {one.key: number for number, one in enumerate(build.parts)}
    both.sort(key=lambda one: place.get(one.part, len(place)))
    return plumbed_edit(build, replace(build.plumbing, ordered=tuple(both)), part)


def gathered(shelf: Iterable[ShelfThing]) -> tuple[ShelfThing, ...]:
    """Lines that say the same but for their count, in one."""
    found: dict[ShelfThing, int] = {}
    for thing in shelf:
        alike = replace(thing, count=0)
        found[alike] = found.get(alike, 0) + thing.count
    return tuple(replace(thing, count=count) for thing, count in found.items())


def _is_there(shelf: Sequence[ShelfThing], place: int, was: ShelfThing) -> bool:
    return 0 <= place < len(shelf) and shelf[place] == was


def _gone(was: ShelfThing) -> Fault:
    return Thing(kind="shelf", key="", name=was.name or was.piece).fault(
        "", "the shelf was changed meanwhile. Look at it again, then press once more."
    )
