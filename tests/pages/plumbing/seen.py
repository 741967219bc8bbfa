"""The plumbing of the demo build, and of small builds, as the pages look things up in it."""

from functools import cache

from tests.plumbing.heron import NOW, heron
from webapp.build.build_input import BuildInput
from webapp.pages.plumbing.seen import Seen
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import plumbed


def seen_in(build: BuildInput) -> Seen:
    """What is plumbed in a build without faults."""
    return Seen(
        slug="bench",
        today=NOW.date(),
        build=build,
        plumbed=plumbed(build),
        drawing=Drawing(build),
    )


@cache
def heron_seen() -> Seen:
    """What is plumbed in the demo build."""
    return seen_in(heron())
