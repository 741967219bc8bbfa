"""What is kept in memory: the one asked for longest ago goes first, and a key is looked at once."""

from dataclasses import dataclass

from webapp.services.kept import Kept


@dataclass(eq=False)
class Key:
    """A key that writes down each time it is hashed or compared."""

    number: int
    asked: list[str]

    def __hash__(self) -> int:
        self.asked.append("hash")
        return hash(self.number)

    def __eq__(self, other: object) -> bool:
        self.asked.append("compare")
        return isinstance(other, Key) and self.number == other.number


def three() -> Kept[int, str | None]:
    kept = Kept[int, str | None](3)
    for number, word in enumerate(("none", "one", "two")):
        kept.keep(number, word)
    return kept


def test_the_one_asked_for_longest_ago_goes_first() -> None:
    kept = three()
    assert kept.get(0) == "none"
    kept.keep(3, "three")
    assert kept.values() == ("two", "none", "three")
    assert kept.get_or_keep(2, lambda: "made") == "two"
    assert kept.get_or_keep(4, lambda: "made") == "made"
    assert kept.values() == ("three", "two", "made")
    assert kept.get(1) is None


def test_a_key_is_kept_once_with_what_was_kept_last() -> None:
    kept = three()
    assert kept.keep(1, "another") == "another"
    assert kept.values() == ("none", "two", "another")
    kept.drop(0)
    kept.drop(0)
    assert kept.values() == ("two", "another")


def test_what_is_not_kept_is_not_there_once_it_was_asked_for() -> None:
    kept = three()
    assert kept.get(7) is None
    assert kept.values() == ("none", "one", "two")


def test_none_may_be_kept_and_is_not_made_again() -> None:
    kept = three()
    kept.keep(1, None)
    assert kept.get(1) is None
    assert kept.values() == ("none", "two", None)
    assert kept.get_or_keep(1, lambda: "made") is None


def test_a_key_that_is_there_is_hashed_twice_and_compared_once() -> None:
    """A whole build is a key: to hash and to compare one takes as long as to read a row of it."""
    asked: list[str] = []
    kept = Kept[Key, str](2)
    kept.keep(Key(1, asked), "one")
    for ask in (
        kept.get,
        lambda key: kept.keep(key, "one"),
        lambda key: kept.get_or_keep(key, str),
    ):
        asked.clear()
        assert ask(Key(1, asked)) == "one"
        assert asked == ["hash", "compare", "hash"]
