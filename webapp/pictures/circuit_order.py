"""In which order the components of a circuit stand: along the flow, whatever the graph.

Runs that lead back to a component still on the walk are returns; so every loop is cut once, where
it comes home. The others go forward: a column for each step, the heaviest chain on the main line.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.pictures.circuit_model import CircuitModel, PicturePipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """Where each box stands. `order` is that of one column; `returns` are numbers of runs."""

    columns: dict[str, int]
    rows: dict[str, int]
    order: tuple[str, ...]
    returns: frozenset[int]


def arranged(model: CircuitModel) -> Arrangement:
    """The places of the boxes of a circuit; the same for the same circuit."""
    leaving: dict[str, list[PicturePipe]] = {box.key: [] for box in model.boxes}
    for pipe in sorted(model.pipes, key=lambda one: (-one.bore_mm, one.number)):
        leaving[pipe.from_box].append(pipe)
    roots = _roots(model)
    returns, finished = _walked(roots, leaving)
    forward = {
        key: [pipe for pipe in pipes if pipe.number not in returns]
        for key, pipes in leaving.items()
    }
    along = tuple(reversed(finished))
    columns = _columns(along, forward, model.start)
    chains = _chains([*roots, *sorted(along, key=lambda key: columns[key])], forward, finished)
    return Arrangement(
        columns=columns,
        rows=_rows(chains, columns),
        order=_one_column(chains, forward),
        returns=returns,
    )


def _roots(model: CircuitModel) -> list[str]:
    """The start, then what nothing flows into, then all others; what has no run stands last."""
    fed = {pipe.to_box for pipe in model.pipes if pipe.from_box != pipe.to_box}
    joined = fed | {pipe.from_box for pipe in model.pipes}
    keys = [box.key for box in model.boxes if box.key != model.start]
    return [
        model.start,
        *(key for key in keys if key in joined and key not in fed),
        *(key for key in keys if key in fed),
        *(key for key in keys if key not in joined),
    ]


def _walked(
    roots: Iterable[str], leaving: dict[str, list[PicturePipe]]
) -> tuple[frozenset[int], list[str]]:
    """The numbers of the returns, and the boxes in the order in which the walk left them."""
    state: dict[str, str] = {}
    returns: set[int] = set()
    finished: list[str] = []
    for root in roots:
        if root in state:
            continue
        state[root] = "open"
        ahead = [(root, iter(leaving[root]))]
        while ahead:
            here, pipes = ahead[-1]
            pipe = next(pipes, None)
            if pipe is None:
                state[here] = "left"
                finished.append(here)
                ahead.pop()
            elif state.get(pipe.to_box) == "open":
                returns.add(pipe.number)
            elif pipe.to_box not in state:
                state[pipe.to_box] = "open"
                ahead.append((pipe.to_box, iter(leaving[pipe.to_box])))
    return frozenset(returns), finished


def _columns(
    along: tuple[str, ...], forward: dict[str, list[PicturePipe]], start: str
) -> dict[str, int]:
    """The most forward runs between each box and a start; a feeder stands before what it feeds."""
    columns = dict.fromkeys(along, 0)
    fed: set[str] = set()
    for key in along:
        for pipe in forward[key]:
            fed.add(pipe.to_box)
            columns[pipe.to_box] = max(columns[pipe.to_box], columns[key] + 1)
    for key in along:
        if key not in fed and forward[key] and key != start:
            columns[key] = max(0, min(columns[pipe.to_box] for pipe in forward[key]) - 1)
    return columns


def _chains(
    starts: Iterable[str], forward: dict[str, list[PicturePipe]], finished: list[str]
) -> list[list[str]]:
    """The boxes in chains along the flow, each the one with the most bore that is left."""
    weight: dict[str, tuple[float, int]] = {}
    following: dict[str, str] = {}
    for key in finished:  # what it flows to is left before it
        best = max(
            (
                (pipe.bore_mm + weight[pipe.to_box][0], weight[pipe.to_box][1] + 1, -pipe.number)
                for pipe in forward[key]
            ),
            default=(0.0, 0, 0),
        )
        weight[key] = best[:2]
        if best[2]:
            following[key] = next(pipe.to_box for pipe in forward[key] if pipe.number == -best[2])
    placed: set[str] = set()
    chains = []
    for start in starts:
        chain = []
        here: str | None = start
        while here is not None and here not in placed:
            chain.append(here)
            placed.add(here)
            here = following.get(here)
        if chain:
            chains.append(chain)
    return chains


def _rows(chains: list[list[str]], columns: dict[str, int]) -> dict[str, int]:
    """The main line on row 0; each further chain on the first row where its columns are free."""
    rows: dict[str, int] = {}
    taken: list[tuple[int, int, int]] = []
    main_ends = columns[chains[0][-1]]
    for chain in chains:
        first, last = columns[chain[0]], columns[chain[-1]]
        row = 0 if not taken or first > main_ends else 1
        while any(row == used and first <= end and begin <= last for used, begin, end in taken):
            row += 1
        taken.append((row, first, last))
        rows.update(dict.fromkeys(chain, row))
    return rows


def _one_column(chains: list[list[str]], forward: dict[str, list[PicturePipe]]) -> tuple[str, ...]:
    """One under another; what feeds the start stands above it."""
    start = chains[0][0]
    feeding = [
        chain for chain in chains[1:] if any(pipe.to_box == start for pipe in forward[chain[-1]])
    ]
    others = [chain for chain in chains if chain not in feeding]
    return tuple(key for chain in (*feeding, *others) for key in chain)
