"""Joints that nothing on the shelf closes: what both sides reach with it, and the piece to buy."""

from collections.abc import Sequence
from itertools import permutations
from random import Random

from tests.plumbing.small import build, circuit, component, lying, port
from tests.plumbing.test_proposals import SIZES, EndOf, joiner, random_shelf, reducer
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import End, Run, ShelfThing
from webapp.plumbing.chains import goes
from webapp.plumbing.ends import HARD_ENDS, Joining, ends_of
from webapp.plumbing.names import piece_name
from webapp.plumbing.nearest import Nearest, Side, nearest_sizes
from webapp.plumbing.plumbed import plumbed

OIL = circuit("a.p", "b.p")


def joint_of(one: EndOf, other: EndOf, shelf: Sequence[ShelfThing]) -> BuildInput:
    a, b = component("a", port("p", "out", *one)), component("b", port("p", "in", *other))
    return build((a, b), (OIL,), (Run(key="r", from_port="a.p", to_port="b.p"),), tuple(shelf))


def nearest(one: EndOf, other: EndOf, *shelf: ShelfThing) -> tuple[Nearest, ...]:
    return nearest_sizes(joint_of(one, other, shelf))


def test_both_sides_go_as_far_as_the_shelf_reaches_and_one_piece_closes_it() -> None:
    """From 51 a reducer and a joiner come to 63: 26 to go rather than 38. With one from 89 to 76
    too, 13: the two hoses want a step."""
    assert nearest(("bead", 51), ("bead", 89), reducer(51, 63), joiner(63)) == (
        Nearest(
            run="r",
            at=1,
            left=Side(pieces=("reducer 63-51 rubber", "joiner 63.5 steel"), end="bead 63"),
            right=Side(pieces=(), end="bead 89"),
            buy="reducer 89-63 rubber",
        ),
    )
    shelf = (reducer(51, 63), joiner(63), reducer(89, 76))
    assert nearest(("bead", 51), ("bead", 89), *shelf) == (
        Nearest(
            run="r",
            at=1,
            left=Side(pieces=("reducer 63-51 rubber",), end="hose 63"),
            right=Side(pieces=("reducer 89-76 rubber",), end="hose 76"),
            buy="step 76-63.5 steel",
        ),
    )


def test_where_the_shelf_brings_nothing_nearer_nothing_is_said() -> None:
    assert nearest(("bead", 51), ("bead", 60)) == ()
    assert nearest(("bead", 51), ("bead", 60), reducer(51, 76)) == ()


def test_a_joint_that_the_shelf_closes_is_not_told() -> None:
    assert nearest(("bead", 51), ("bead", 60), reducer(51, 60)) == ()


def test_ends_of_other_kinds_are_brought_to_such_as_one_piece_joins() -> None:
    """A thread and a bead: the adapter on the shelf makes two beads of them."""
    adapter = lying("adapter", ends=(End(kind="male", size="M16x1.5"), End(kind="bead", size=12)))
    found = nearest(("female", "M16x1.5"), ("bead", 16), adapter)
    assert [(one.left.end, one.right.end, one.buy) for one in found] == [
        ("bead 12", "bead 16", "reducer 16-12 rubber")
    ]


# --- against another search ----------------------------------------------------------------------


def gap(one: Joining, other: Joining) -> float | None:
    hard = one.end.kind in HARD_ENDS and other.end.kind in HARD_ENDS
    if not (hard or one.end.kind == other.end.kind == "hose"):
        return None
    assert isinstance(one.end.size, int | float)
    assert isinstance(other.end.size, int | float)
    return abs(one.end.size - other.end.size)


def ways(start: Joining, shelf: dict[str, ShelfThing], most: int) -> list[tuple[Joining, set[str]]]:
    """Every end that any row of different pieces comes to."""
    found = [(start, set[str]())]
    for count in range(1, most + 1):
        for names in permutations(shelf, count):
            here = [start]
            for name in names:
                one, other = (Joining(end=e, of=shelf[name].of or "") for e in ends_of(shelf[name]))
                here = [
                    far
                    for end in here
                    for near, far in ((one, other), (other, one))
                    if goes(end, near, OIL)
                ]
            found += [(end, set(names)) for end in here]
    return found


def test_no_other_choice_of_pieces_comes_nearer_on_random_shelves() -> None:
    told = 0
    for luck in map(Random, range(120)):
        things = random_shelf(luck)[:6]
        shelf = {piece_name(one): one for one in things if one.count}
        one, other = luck.sample(SIZES, 2)
        ends: tuple[EndOf, EndOf] = (("bead", one), ("bead", other))
        of = joint_of(*ends, [*shelf.values()])
        if plumbed(of).proposals[0].source == "shelf":
            assert nearest_sizes(of) == ()
            continue
        start, goal = (Joining(end=End(kind="bead", size=size)) for size in (one, other))
        gaps = [
            apart
            for left, used in ways(start, shelf, 3)
            for right, also in ways(goal, shelf, 3)
            if not used & also and len(used) + len(also) <= 3 and used | also
            if (apart := gap(left, right)) is not None and apart < abs(one - other)
        ]
        found = nearest_sizes(of)
        assert bool(found) == bool(gaps)
        if found:
            told += 1
            sizes = [float(side.end.split()[1]) for side in (found[0].left, found[0].right)]
            assert abs(sizes[0] - sizes[1]) == min(gaps)
    assert told >= 15
