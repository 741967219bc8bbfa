"""Why no order reaches first start, a sentence for each task that makes it so."""

from collections.abc import Iterable

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.pages.words.unplanned import standing_words
from webapp.planning.tighten.blocks import Block


def block_words(build: BuildInput, blocked: Iterable[Block]) -> tuple[str, ...]:
    """The sentences in the order of the blocks."""
    return tuple(_block_words(build, block) for block in blocked)


def _block_words(build: BuildInput, block: Block) -> str:
    if block.standing is not None:
        return standing_words(build, block.key, block.standing)
    name = get_by_key(build.tasks, block.key).name
    others = " with the others named here" if block.together else ""
    session = "a session with the helper" if block.helper else "a session"
    return (
        f"“{name}” finds no room{others}: it needs {session} of {block.hours:g} hours, "
        "and not enough of them are left."
    )
