"""What tests of the bridge do to a build, and what they ask of a way."""

from dataclasses import replace
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.planning.bridge.bridge import Bridge


def changed(build: BuildInput, key: str, **facts: Any) -> BuildInput:
    """The build with some facts of one task replaced."""
    tasks = tuple(replace(t, **facts) if t.key == key else t for t in build.tasks)
    return replace(build, tasks=tasks)


def minutes_by_cause(way: Bridge) -> dict[str, int]:
    """By cause the minutes of those that took any."""
    return {share.cause: share.minutes for share in way.shares if share.minutes}
