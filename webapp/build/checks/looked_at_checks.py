"""Faults of what was looked at in the Sunday half hour."""

from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, shown


def looked_at_faults(build: BuildInput) -> Iterator[Fault]:
    """Each is about one thing that there is, on days that have been, and stands there once."""
    wishes, tasks = ({one.key for one in of} for of in (build.wishes, build.tasks))
    seen = set()
    for number, one in enumerate(build.looked_at, start=1):
        about = [each for each in one.about if each is not None]
        key = str(about[0]) if len(about) == 1 else ""
        thing = Thing(kind="looked at", key=key, number=number)
        if len(about) != 1:
            yield thing.fault(
                "", "it must be about one thing: an evening, a wish or a task. Name one of them."
            )
            continue
        yield from thing.day_faults("on", "the day it was looked at", one.on, now=build.now)
        yield from thing.day_faults("evening", "the evening", one.evening, now=build.now)
        for field, named, there in (("wish", one.wish, wishes), ("task", one.task, tasks)):
            if named is not None and named not in there:
                yield thing.fault(
                    field,
                    f"there is no {field} {shown(named)}. Pick one that is in the build, or take "
                    "this out.",
                )
        if one.about in seen:
            yield thing.fault("", "it stands there twice. Take one of the two out.")
        seen.add(one.about)
