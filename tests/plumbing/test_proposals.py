"""Joints that do not fit are mended from the shelf by the fewest pieces, else by what to buy."""

import datetime as dt
from collections import Counter
from itertools import pairwise
from random import Random

import networkx as nx
import pytest

from tests.plumbing.small import DAY, build, circuit, component, hose, lying, port, run, tube
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Circuit, End, EndKind, Piece, Run, ShelfThing, Size
from webapp.plumbing.chains import MOST_IN_A_CHAIN, Chains, goes
from webapp.plumbing.ends import Joining, ends_of
from webapp.plumbing.names import piece_name
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.proposals import Proposal


def reducer(one: float, other: float, of: str = "rubber", count: int = 1) -> ShelfThing:
    return lying("reducer", count, size=(one, other), of=of)


def joiner(size: float, of: str = "steel", count: int = 1) -> ShelfThing:
    return lying("joiner", count, size=size, of=of)


EndOf = tuple[EndKind, Size]


def between(
    one: EndOf,
    other: EndOf,
    *pieces: Piece,
    shelf: tuple[ShelfThing, ...] = (),
    of: Circuit | None = None,
    cut_on: dt.date | None = None,
) -> tuple[Proposal, ...]:
    """What mends the run of those pieces between a port out and a port in."""
    a, b = component("a", port("p", "out", *one)), component("b", port("p", "in", *other))
    drawn = Run(key="r", from_port="a.p", to_port="b.p", pieces=pieces, cut_on=cut_on)
    return plumbed(build((a, b), (of or circuit("a.p", "b.p"),), (drawn,), shelf)).proposals


def told(proposals: tuple[Proposal, ...]) -> list[tuple[int, int | None, tuple[str, ...], str]]:
    return [(one.at, one.instead_of, one.pieces, one.source) for one in proposals]


def test_the_shelf_comes_before_buying_even_with_more_pieces() -> None:
    """Bead 51 to bead 76 bolted together: to buy one reducer, on the shelf three pieces."""
    shelf = (reducer(51, 63), joiner(63), reducer(63, 76))
    names = ("reducer 63-51 rubber", "joiner 63.5 steel", "reducer 76-63 rubber")
    ends: tuple[EndOf, EndOf] = (("bead", 51), ("bead", 76))
    assert told(between(*ends, shelf=shelf)) == [(1, None, names, "shelf")]
    assert told(between(*ends, shelf=shelf[:2])) == [(1, None, ("reducer 76-51 rubber",), "buy")]


def test_soft_pieces_are_of_the_circuits_hose_and_hard_ones_of_its_tube() -> None:
    ends: tuple[EndOf, EndOf] = (("bead", 51), ("bead", 60))
    for shelf in ((reducer(51, 60, of="oil"),), (reducer(51, 60, of=""),)):
        assert between(*ends, shelf=shelf)[0].source == "buy"
    hoses = (hose(51), hose(60))
    wrong = (lying("step", size=(51, 60), of="aluminium"),)
    right = (lying("step", size=(51, 60), of="steel"),)
    for shelf, source in ((wrong, "buy"), (right, "shelf")):
        (found,) = between(*ends, *hoses, shelf=shelf)
        assert (found.at, found.source) == (2, source)


def test_adapters_may_be_of_anything() -> None:
    adapter = lying("adapter", ends=(End(kind="female", size="G1/4"), End(kind="bead", size=10)))
    drawn = hose(10, of="rubber")
    (found,) = between(("male", "G1/4"), ("bead", 10), drawn, shelf=(adapter,))
    assert (found.at, found.pieces) == (1, ("adapter bead 10 - female G1/4",))


SILICONE = circuit("a.p", "b.p", hose="silicone")
"""60 of silicone goes over 61.8 at most (3 %); rubber would go over 63."""
TOO_SMALL = (hose(60), tube(60), Piece(piece="coupler", size=60))
CHARGE: tuple[EndOf, EndOf] = (("bead", 60), ("bead", 63))


def test_an_exchange_counts_one_piece_less() -> None:
    """A coupler 60 before a bead 63: a reducer in its place, not a joiner and a reducer behind."""
    shelf = (reducer(63, 60, of="silicone"), joiner(60))
    found = between(*CHARGE, *TOO_SMALL, shelf=shelf, of=SILICONE)
    assert told(found) == [(4, 3, ("reducer 63-60 silicone",), "shelf")]
    found = between(*CHARGE, *TOO_SMALL, of=SILICONE)
    assert told(found) == [(4, 3, ("reducer 63-60 silicone",), "buy")]


def test_nothing_is_exchanged_in_a_run_that_is_cut() -> None:
    shelf = (reducer(63, 60, of="silicone"),)
    found = between(*CHARGE, *TOO_SMALL, shelf=shelf, of=SILICONE, cut_on=DAY)
    assert told(found) == [(4, None, ("joiner 60 steel", "reducer 63-60 silicone"), "buy")]


def test_a_piece_too_many_is_left_out() -> None:
    """Bead 38, hose 38, a joiner 51, bead 38: without the joiner the hose fits the bead."""
    drawn = (hose(38), Piece(piece="joiner", size=51))
    found = between(("bead", 38), ("bead", 38), *drawn)
    assert told(found)[0] == (2, 2, (), "shelf")


def test_what_one_joint_takes_no_other_gets() -> None:
    a, b = (
        component("a", port("p", "out"), port("q", "out")),
        component("b", port("p", "in", size=51), port("q", "in", size=51)),
    )
    runs = tuple(
        Run(key=f"r{name}", from_port=f"a.{name}", to_port=f"b.{name}") for name in ("p", "q")
    )
    of = build((a, b), (circuit("a.p", "b.p"),), runs, (reducer(51, 38),))
    assert [one.source for one in plumbed(of).proposals] == ["shelf", "buy"]


def test_what_is_drawn_comes_before_proposals() -> None:
    """The one reducer is drawn in the second run: the first run's joint has to do without."""
    a, b = (
        component("a", port("p", "out"), port("q", "out")),
        component("b", port("p", "in", size=51), port("q", "in", size=51)),
    )
    drawn = run("rq", "a.q", "b.q", Piece(piece="reducer", size=(38, 51)))
    of = build(
        (a, b),
        (circuit("a.p", "b.p"),),
        (Run(key="rp", from_port="a.p", to_port="b.p"), drawn),
        (reducer(51, 38),),
    )
    assert [one.source for one in plumbed(of).proposals] == ["buy"]


def test_no_name_stands_twice_in_a_chain() -> None:
    """Drift: each adapter takes 0.25 off a quick end, so two of one name would reach."""
    adapter = lying(
        "adapter", 2, ends=(End(kind="quick_female", size=8), End(kind="quick_male", size=7.5))
    )
    (found,) = between(("quick_male", 8), ("quick_female", 7), shelf=(adapter,))
    assert found.source == "buy"


def test_five_pieces_are_too_many() -> None:
    sizes = (38, 45, 51, 57)
    shelf: list[ShelfThing] = []
    for one, other in pairwise(sizes):
        shelf += [reducer(one, other), joiner(other)]
    three = tuple(shelf[:3])
    assert len(between(("bead", 38), ("bead", 51), shelf=three)[0].pieces) == 3
    (found,) = between(("bead", 38), ("bead", 57), shelf=tuple(shelf))  # would take five
    assert found.source == "buy"


@pytest.mark.parametrize(
    ("one", "other", "names"),
    [
        (("bead", 51), ("bead", 51), ("coupler 51 rubber",)),
        (("bead", 38), ("spigot", 38.1), ("coupler 38 rubber",)),
        (("bead", 51), ("nipple", 60), ("reducer 60-51 rubber",)),
        (("hose", 51), ("hose", 51), ("joiner 51 steel",)),
        (("hose", 51), ("hose", 60), ("step 60-51 steel",)),
        (("hose", 19), ("bead", 16), ("joiner 19 steel", "reducer 19-16 rubber")),
        (("bead", 16), ("hose", 19), ("reducer 19-16 rubber", "joiner 19 steel")),
        (("male", "M16x1.5"), ("female", "M18x1.5"), ("adapter female M16x1.5 - male M18x1.5",)),
        (("female", "G1/4"), ("bead", 10), ("adapter hose 10 - male G1/4",)),
        (("hose", 10), ("female", "G1/4"), ("adapter bead 10 - male G1/4",)),
        (("flange", "x"), ("flange", "y"), ("adapter flange x - flange y",)),
    ],
)
def test_what_to_buy_for_two_ends(
    one: tuple[EndKind, Size], other: tuple[EndKind, Size], names: tuple[str, ...]
) -> None:
    assert told(between(one, other)) == [(1, None, names, "buy")]


def test_a_circuit_without_hoses_gets_a_sleeve() -> None:
    bare = circuit("a.p", "b.p", hose=None, tube="stainless")
    for size, name in ((63.5, "sleeve 63.5 stainless"), (76, "sleeve 76-63.5 stainless")):
        found = between(("spigot", 63.5), ("spigot", size), of=bare)
        assert told(found) == [(1, None, (name,), "buy")]


# --- against an independent search -------------------------------------------------------------

SIZES = (16, 19, 25, 32, 38, 51)


def random_shelf(luck: Random) -> tuple[ShelfThing, ...]:
    """Pieces of six sizes: what a shop is left with."""
    things = []
    for _ in range(luck.randint(3, 18)):
        kind = luck.choice(["reducer", "step", "joiner", "coupler", "adapter"])
        one, other = luck.sample(SIZES, 2)
        if kind == "adapter":
            ends = tuple(
                End(kind=luck.choice(["bead", "hose", "male", "female"]), size=size)
                for size in (one, other)
            )
            ends = tuple(
                End(kind=end.kind, size="G1/2") if end.kind in ("male", "female") else end
                for end in ends
            )
            things.append(lying("adapter", luck.randint(0, 2), ends=ends))
        elif kind in ("reducer", "step"):
            of = "rubber" if kind == "reducer" else "steel"
            things.append(lying(kind, luck.randint(0, 2), size=(one, other), of=of))
        else:
            of = "rubber" if kind == "coupler" else "steel"
            things.append(lying(kind, luck.randint(0, 2), size=one, of=of))
    return tuple(things)


def steps_by_networkx(shelf: dict[str, ShelfThing], start: Joining, goal: Joining) -> int | None:
    """The fewest pieces between two ends, none twice: a search over pieces turned either way."""
    oil = circuit("a.p", "b.p")
    graph = nx.DiGraph()
    turned = []
    for name, thing in shelf.items():
        one, other = (Joining(end=end, of=thing.of or "") for end in ends_of(thing))
        turned += [((name, 0), one, other), ((name, 1), other, one)]
    graph.add_nodes_from(["start", "goal"])
    for node, near, far in turned:
        if goes(start, near, oil):
            graph.add_edge("start", node)
        if goes(far, goal, oil):
            graph.add_edge(node, "goal")
        for other_node, other_near, _ in turned:
            if goes(far, other_near, oil):
                graph.add_edge(node, other_node)
    if not nx.has_path(graph, "start", "goal"):
        return None
    for ways in (
        nx.all_shortest_paths(graph, "start", "goal"),
        nx.all_simple_paths(graph, "start", "goal", cutoff=MOST_IN_A_CHAIN + 1),
    ):
        counts = [len(way) - 2 for way in ways if _once_each(way[1:-1])]
        if counts:
            return min(counts)
    return None


def _once_each(nodes: list[tuple[str, int]]) -> bool:
    return len({name for name, _ in nodes}) == len(nodes)


def test_chains_are_as_short_as_another_search_finds_on_500_shelves() -> None:
    oil = circuit("a.p", "b.p")
    found: Counter[int | None] = Counter()
    for luck in map(Random, range(500)):
        shelf = {piece_name(one): one for one in random_shelf(luck) if one.count}
        one, other = luck.sample(SIZES, 2)
        start = Joining(end=End(kind=luck.choice(["bead", "hose"]), size=one), of="rubber")
        goal = Joining(end=End(kind=luck.choice(["bead", "hose"]), size=other), of="rubber")
        chain = Chains(shelf, oil).shortest(start, goal, lambda _: True)
        steps = steps_by_networkx(shelf, start, goal)
        if steps is not None and steps > MOST_IN_A_CHAIN:
            steps = None
        assert (None if chain is None else len(chain)) == steps
        found[steps] += 1
        if chain is not None:
            assert len(set(chain)) == len(chain)
            assert is_a_way(shelf, chain, start, goal)
    assert {*found} == {None, 1, 2, 3, 4}  # every length is among them


def is_a_way(
    shelf: dict[str, ShelfThing], chain: tuple[str, ...], start: Joining, goal: Joining
) -> bool:
    """Whether the pieces, each turned one way or the other, lead from one end to the other."""
    oil = circuit("a.p", "b.p")
    ends = [start]
    for name in chain:
        thing = shelf[name]
        one, other = (Joining(end=end, of=thing.of or "") for end in ends_of(thing))
        ends = [
            far
            for here in ends
            for near, far in ((one, other), (other, one))
            if goes(here, near, oil)
        ]
    return any(goes(here, goal, oil) for here in ends)


def many_unfit(count: int) -> BuildInput:
    """Two ends bolted together that do not fit, so often, and a shelf of a few hundred things."""
    luck = Random("unfit")
    ends, runs = [], []
    for number in range(count):
        one, other = luck.sample(SIZES, 2)
        ends += [
            component(f"a{number}", port("p", "out", size=one)),
            component(f"b{number}", port("p", "in", size=other)),
        ]
        runs.append(Run(key=f"r{number}", from_port=f"a{number}.p", to_port=f"b{number}.p"))
    shelf = tuple(thing for seed in range(20) for thing in random_shelf(Random(seed)))
    return build(tuple(ends), (circuit("a0.p", "b0.p"),), tuple(runs), shelf)


def test_many_joints_are_answered_and_none_is_left_out() -> None:
    assert len(plumbed(many_unfit(78)).proposals) == 78
