"""What the Sunday half hour does to a build: looked at and left, a new day, what is left."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput, LookedAt
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.moments import date_of


def nobody_was_in(build: BuildInput, evening: dt.date) -> BuildInput:
    """The build that knows that nobody was in the shop on a date. The shop week stays as it is."""
    return _looked_at(build, LookedAt(on=build.now.date(), evening=evening))


def put_off(build: BuildInput, wish: str) -> BuildInput:
    """The build in which a wish was looked at today and stays undecided. KeyError without it."""
    get_by_key(build.wishes, wish)
    return _looked_at(build, LookedAt(on=build.now.date(), wish=wish))


def left_said(build: BuildInput, task: str, hours: float) -> BuildInput:
    """The build in which was said today how many hours are left of a begun task.

    KeyError without such a task.
    """
    said = replace(get_by_key(build.tasks, task), hours_left=hours)
    build = replace(build, tasks=replaced_by_key(build.tasks, said))
    return _looked_at(build, LookedAt(on=build.now.date(), task=task))


def part_comes(build: BuildInput, key: str, on: dt.date) -> BuildInput:
    """The build in which a part comes on another day. KeyError without such a part.

    It is the day of arrival that moves where one was entered, else the day promised.
    """
    part = get_by_key(build.parts, key)
    if part.arrives_on is not None:
        moved = replace(part, arrives_on=on)
    else:
        moved = replace(part, promised_on=on)
    return replace(build, parts=replaced_by_key(build.parts, moved))


def comes_back(build: BuildInput, key: str, on: dt.date) -> BuildInput:
    """The build in which work that was sent out comes back on another day.

    It then takes the whole days from its beginning to that day. KeyError without such a task.
    """
    task = get_by_key(build.tasks, key)
    assert task.begun_on is not None
    days = float((on - date_of(task.begun_on)).days)
    moved = replace(task, outside_days=days)
    return replace(build, tasks=replaced_by_key(build.tasks, moved))


def _looked_at(build: BuildInput, new: LookedAt) -> BuildInput:
    """With one more thing looked at, in place of what was said of it before."""
    if any(one.about == new.about for one in build.looked_at):
        looked_at = tuple(new if one.about == new.about else one for one in build.looked_at)
    else:
        looked_at = (*build.looked_at, new)
    return replace(build, looked_at=looked_at)
