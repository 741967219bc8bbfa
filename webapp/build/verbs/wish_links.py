"""What goes out of the build, nothing points at any more."""

from dataclasses import replace
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import NOTHING_PLUMBED, Plumbing
from webapp.build.wish import Wish


def without_lost_links(build: BuildInput) -> BuildInput:
    """The build with every wish's pointers to things that are not there taken out.

    The kept order lets go of tasks that are not there likewise, and so do the bench, what was
    looked at and what is plumbed. A wish may point at a subsystem, a setup, a quick size and the
    tasks it comes between. What is missing then is assumed again, and said to be.
    """
    build = _with_plumbing_linked(build)
    tasks = {task.key for task in build.tasks}
    subsystems = {one.key for one in build.subsystems}
    setups = {one.key for one in build.shop.setups}
    sizes = {one.key for one in build.wish_sizes}

    def kept(wish: Wish) -> Wish:
        changed: dict[str, Any] = {
            name: None
            for name, there in (
                ("after", tasks),
                ("before", tasks),
                ("subsystem", subsystems),
                ("setup", setups),
                ("size", sizes),
            )
            if getattr(wish, name) is not None and getattr(wish, name) not in there
        }
        return replace(wish, **changed) if changed else wish

    wishes = tuple(kept(wish) for wish in build.wishes)
    order = tuple(key for key in build.kept_order if key in tasks)
    clock = build.on_bench if build.on_bench and build.on_bench.task in tasks else None
    there = {wish.key for wish in wishes} | {None}
    looked_at = tuple(
        one for one in build.looked_at if one.wish in there and one.task in tasks | {None}
    )
    left = wishes, order, clock, looked_at
    if left == (build.wishes, build.kept_order, build.on_bench, build.looked_at):
        return build
    return replace(build, wishes=wishes, kept_order=order, on_bench=clock, looked_at=looked_at)


def _with_plumbing_linked(build: BuildInput) -> BuildInput:
    """Circuits and runs name tasks, circuits a subsystem, components and what is ordered a part."""
    plumbing = build.plumbing
    if plumbing == NOTHING_PLUMBED:
        return build
    tasks = {task.key for task in build.tasks}
    parts = {part.key for part in build.parts} | {None}
    subsystems = {one.key for one in build.subsystems} | {None}
    left = Plumbing(
        components=tuple(
            one if one.part in parts else replace(one, part=None) for one in plumbing.components
        ),
        circuits=tuple(
            one
            if one.subsystem in subsystems and tasks.issuperset(one.holds)
            else replace(
                one,
                subsystem=one.subsystem if one.subsystem in subsystems else None,
                holds=tuple(key for key in one.holds if key in tasks),
            )
            for one in plumbing.circuits
        ),
        runs=tuple(
            one
            if tasks.issuperset(one.tasks)
            else replace(one, tasks=tuple(key for key in one.tasks if key in tasks))
            for one in plumbing.runs
        ),
        shelf=plumbing.shelf,
        sold=plumbing.sold,
        ordered=tuple(one for one in plumbing.ordered if one.part in parts),
    )
    return build if left == plumbing else replace(build, plumbing=left)
