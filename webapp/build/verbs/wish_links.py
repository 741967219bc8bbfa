"""What goes out of the build, nothing points at any more."""

from dataclasses import replace
from typing import Any

from webapp.build.build_input import BuildInput, Wish


def without_lost_links(build: BuildInput) -> BuildInput:
    """The build with every wish's pointers to things that are not there taken out.

    The kept order lets go of tasks that are not there likewise, and so do the bench and what was
    looked at. A wish
    may point at a subsystem, a setup, a quick size and the tasks it comes between. What is
    missing then is assumed again, and said to be.
    """
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
