"""Wishes and the things they point at: what goes out of the build, no wish points at any more."""

from dataclasses import replace

from webapp.planning.build_input import BuildInput, Wish


def without_lost_links(build: BuildInput) -> BuildInput:
    """The build with every wish's pointers to things that are not there taken out.

    A wish may point at a subsystem, a setup, a quick size and the tasks it comes between. What
    is missing then is assumed again, and said to be.
    """
    tasks = {task.key for task in build.tasks}
    subsystems = {one.key for one in build.subsystems}
    setups = {one.key for one in build.shop.setups}
    sizes = {one.key for one in build.wish_sizes}

    def kept(wish: Wish) -> Wish:
        changed = {
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
    return build if wishes == build.wishes else replace(build, wishes=wishes)
