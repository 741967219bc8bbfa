"""What follows from the plumbing of a build, for a person at a terminal."""

from collections.abc import Iterator, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.pages.words.sizing import STEADY_FLOW, answer_line
from webapp.plumbing.nearest import Nearest
from webapp.plumbing.needs import Need
from webapp.plumbing.open_list import Open
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit
from webapp.plumbing.proposals import Proposal
from webapp.sizing.answers import Answer

NOTHING = "Nothing is plumbed in this build."


def plumbing_table(
    build: BuildInput,
    answer: Plumbed,
    nearest: Sequence[Nearest] = (),
    checks: Sequence[Answer] = (),
) -> str:
    """Each circuit with what is open in it, what to buy, what is nearer, what is held, and what
    was checked."""
    if not answer.circuits and not checks:
        return NOTHING
    lines = [line for one in answer.circuits for line in _circuit(build, one)]
    if answer.buy:
        lines += ["", "To buy:"]
        for line in answer.buy:
            ordered = f"  ({line.ordered:g} ordered)" if line.ordered else ""
            lines.append(f"  {_need_words(line.need)}{ordered}")
    if nearest:
        lines += ["", "Nearer with what lies there:"]
        lines += [f"  {_nearest_words(build, one)}" for one in nearest]
    if answer.held:
        lines += ["", "Held:"]
        for held in answer.held:
            task = find_by_key(build.tasks, held.task)
            by = ", ".join(f"{hold.circuit} {hold.why}" for hold in held.by)
            lines.append(f"  {task.name if task else held.task}: {by}")
    if checks:
        lines += ["", f"Checks. {STEADY_FLOW}", *(f"  {answer_line(one)}" for one in checks)]
    return "\n".join(lines).removeprefix("\n")


def _nearest_words(build: BuildInput, one: Nearest) -> str:
    """ "Upper hose (w_top), joint 1: begin bead 63 by joiner 63, end bead 76; to buy: ..."."""
    run = find_by_key(build.plumbing.runs, one.run)
    name = f"{run.name} ({one.run})" if run and run.name else one.run
    sides = (
        f"{where} {side.end}" + (f" by {' + '.join(side.pieces)}" if side.pieces else "")
        for where, side in (("begin", one.left), ("end", one.right))
    )
    return f"{name}, joint {one.at}: {', '.join(sides)}; to buy: {one.buy}"


def _circuit(build: BuildInput, one: PlumbedCircuit) -> Iterator[str]:
    state = "tested" if one.is_tested else "closed" if one.is_closed else "open"
    complete = ", complete" if one.is_complete and not one.is_closed else ""
    yield f"{one.circuit.name} ({one.kind}, {one.litres.litres:g} l): {state}{complete}"
    for each in one.open:
        yield f"  {_open_words(build, each)}"


def _open_words(build: BuildInput, one: Open) -> str:
    name = one.what
    if one.kind == "run":
        run = find_by_key(build.plumbing.runs, one.what)
        name = f"{run.name} ({one.what})" if run and run.name else one.what
    words = f"{name}: {one.why}"
    if one.joint is not None and one.ends is not None:
        words += f", joint {one.joint}: {' and '.join(one.ends)}"
    if one.alike:
        words += f" ({one.alike})"
    if one.needs:
        words += f"; needs {', '.join(map(_need_words, one.needs))}"
    return words + (f"; {_mend_words(one.mend)}" if one.mend else "")


def _need_words(need: Need) -> str:
    if need.metres is not None:
        return f"{need.metres:g} m {need.what}"
    return f"{need.count} x {need.what}"


def _mend_words(mend: Proposal) -> str:
    where = "between" if mend.instead_of is None else f"instead of piece {mend.instead_of}"
    if not mend.pieces:
        return f"leave out piece {mend.instead_of}"
    source = "from the shelf" if mend.source == "shelf" else "to buy"
    return f"{where}: {' + '.join(mend.pieces)}, {source}"
