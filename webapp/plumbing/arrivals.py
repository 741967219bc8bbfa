"""A part has come: what it brings for the plumbing is put on the shelf at one press."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import shown
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.plumbing import Plumbing, ShelfThing
from webapp.build.verbs.plumbing_edits import fault_of, lost, plumbed_edit, refused
from webapp.build.verbs.shelf import gathered
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.named_things import things_named


def brought_to_shelf(build: BuildInput, part_key: str) -> Edited[str]:
    """With all that a part brings on the shelf, and nothing more to come with it.

    What it brings by the litre lies on no shelf: it waits until it is said to be poured in.
    Refused while the part is not here, and for a line whose name no thing has.
    """
    part = find_by_key(build.parts, part_key)
    if part is None:
        return lost(build, "part", part_key, part_key)
    if not part.arrived:
        text = "it is not here yet. Say first that it has come."
        return refused(build, part_key, fault_of("part", part, "arrived", text))
    if all(line.part != part_key for line in build.plumbing.ordered):
        return Edited(build=build, made=part_key)
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, part_key, *standing)
    drawing, faults = Drawing(build), []
    brought: list[ShelfThing] = []
    for line in build.plumbing.ordered:
        if line.part != part_key:
            continue
        things = things_named(drawing, line.what, count=line.count, metres=line.metres)
        if not things and (line.count or line.metres):
            faults.append(
                fault_of(
                    "part",
                    part,
                    "plumbing",
                    f"nothing on the shelf is called {shown(line.what)}. Put it there by hand, "
                    "and take it out of what the part brings.",
                )
            )
        brought += things
    if faults:
        return refused(build, part_key, *faults)
    return plumbed_edit(build, _with(build, part_key, brought), part_key)


def _with(build: BuildInput, part_key: str, brought: list[ShelfThing]) -> Plumbing:
    plumbing = build.plumbing
    return replace(
        plumbing,
        shelf=gathered((*plumbing.shelf, *brought)),
        ordered=tuple(
            one for one in plumbing.ordered if one.part != part_key or one.litres is not None
        ),
    )
