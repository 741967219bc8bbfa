"""The size that a new piece of a run begins with: that of the end before it."""

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import End
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.ends import ends_of, joining_of


def end_before(build: BuildInput, key: str, number: int | None = None) -> End | None:
    """The end that the piece of that number joins on to: of the piece before it, else of the port
    where the run begins. Without a number: a piece at the end.

    Its size fills in a new piece's first size. None where there is no such run or place. The build
    has no fault in its plumbing.
    """
    drawing = Drawing(build)
    run = drawing.runs.get(key)
    if run is None:
        return None
    at = len(run.pieces) + 1 if number is None else number
    if not 1 <= at <= len(run.pieces) + 1:
        return None
    if at == 1:
        return joining_of(drawing.ports[run.from_port].port).end
    return ends_of(run.pieces[at - 2])[1]


def size_before(build: BuildInput, key: str, number: int | None = None) -> float | None:
    """That size in mm; None where it is not measured, or is a name."""
    end = end_before(build, key, number)
    return end.size if end is not None and isinstance(end.size, float | int) else None
