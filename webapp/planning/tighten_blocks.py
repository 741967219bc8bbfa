"""Why no order reaches first start: the things that together make it so, each by its name."""

from webapp.planning.build_input import BuildInput
from webapp.planning.network import standing_in_the_way
from webapp.planning.work_arrays import WorkArrays


def what_blocks(build: BuildInput, work: WorkArrays) -> tuple[str, ...]:
    """A sentence for each thing in the way of first start."""
    return tuple(standing_in_the_way(build).values())
