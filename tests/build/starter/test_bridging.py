"""Order carried on through tasks that are not there."""

from hypothesis import given
from hypothesis import strategies as st

from webapp.build.build_input import Dependency
from webapp.build.starter.bridging import bridged, pair_of


def links(*said: tuple[str, str] | tuple[str, str, float]) -> tuple[Dependency, ...]:
    return tuple(
        Dependency(
            before=each[0],
            after=each[1],
            wait_hours=each[2] if len(each) > 2 else 0.0,
            why="cures" if len(each) > 2 else "seen in place",
        )
        for each in said
    )


def said(found: tuple[Dependency, ...]) -> set[tuple[str, str, float]]:
    return {(*pair_of(link), link.wait_hours) for link in found}


def test_what_came_before_a_task_that_is_not_there_comes_before_what_came_after_it() -> None:
    assert said(bridged(links(("a", "b"), ("b", "c")), {"b"})) == {("a", "c", 0)}


def test_the_wait_into_it_stays_and_its_own_wait_goes() -> None:
    # 24 h are a's own (a washed part dries); 48 h were b's, which nobody does now.
    assert said(bridged(links(("a", "b", 24), ("b", "c", 48)), {"b"})) == {("a", "c", 24)}


def test_a_reason_is_told_of_a_wait_alone() -> None:
    waits, bare = links(("a", "b", 24), ("x", "b")), links(("b", "c"))
    whys = {link.before: link.why for link in bridged((*waits, *bare), {"b"})}
    assert whys == {"a": "cures", "x": ""}


def test_a_chain_of_several_that_are_not_there_is_carried_on_whole() -> None:
    chain = links(("a", "b", 2), ("b", "c", 5), ("c", "d"))
    assert said(bridged(chain, {"b", "c"})) == {("a", "d", 2)}


def test_what_the_others_say_already_is_not_said_again() -> None:
    # a -> d -> c holds c behind a already.
    four = links(("a", "b"), ("b", "c"), ("a", "d"), ("d", "c"))
    assert said(bridged(four, {"b"})) == {("a", "d", 0), ("d", "c", 0)}


def test_a_longer_wait_than_the_others_say_is_said() -> None:
    four = links(("a", "b", 24), ("b", "c"), ("a", "d", 2), ("d", "c"))
    assert ("a", "c", 24) in said(bridged(four, {"b"}))


def test_a_longer_wait_takes_the_place_of_a_shorter_one_between_the_same_two() -> None:
    three = links(("a", "b", 24), ("b", "c"), ("a", "c", 1))
    assert said(bridged(three, {"b"})) == {("a", "c", 24)}


def test_nothing_is_made_where_a_way_ends_or_begins_with_what_is_not_there() -> None:
    assert bridged(links(("a", "b"), ("c", "d")), {"b", "c"}) == ()


@given(
    st.sets(st.tuples(st.integers(0, 7), st.integers(0, 7)).filter(lambda p: p[0] < p[1])),
    st.sets(st.integers(0, 7)),
)
def test_order_among_those_that_are_there_is_the_same_with_and_without_the_others(
    pairs: set[tuple[int, int]], gone: set[int]
) -> None:
    """The transitive closure, reckoned another way: by a table of who is before whom."""
    before = [[(i, j) in pairs for j in range(8)] for i in range(8)]
    for mid in range(8):
        for i in range(8):
            for j in range(8):
                before[i][j] = before[i][j] or (before[i][mid] and before[mid][j])
    made = bridged(links(*((str(i), str(j)) for i, j in sorted(pairs))), {str(i) for i in gone})
    after = [
        [(str(i), str(j)) in {pair_of(link) for link in made} for j in range(8)] for i in range(8)
    ]
    for mid in range(8):
        for i in range(8):
            for j in range(8):
                after[i][j] = after[i][j] or (after[i][mid] and after[mid][j])
    for i in range(8):
        for j in range(8):
            if not {i, j} & gone:
                assert after[i][j] == before[i][j]
            else:
                assert not after[i][j]
