"""The code that pairs one device: once, for ten minutes, and not by trying."""

import itertools

import pytest

from webapp.services.pairing import (
    CODE_LETTERS,
    LETTERS,
    TRIES_OF_ALL,
    TRIES_OF_ONE,
    Pairing,
)

PHONE = "192.0.2.7"


class Clock:
    def __init__(self) -> None:
        self.seconds = 1000.0

    def __call__(self) -> float:
        return self.seconds


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def pairing(clock: Clock) -> Pairing:
    return Pairing(clock)


def test_the_code_is_right_however_it_is_typed(pairing: Pairing) -> None:
    text = pairing.show().text
    for typed in (text, text.lower(), text.replace("-", ""), f" {text.replace('-', ' ')} "):
        assert pairing.tried(typed, by=PHONE) == "right"


def test_no_two_letters_of_a_code_read_alike() -> None:
    assert len(set(LETTERS)) == len(LETTERS) == 32
    assert not set(LETTERS) & set("IO01")


def test_the_codes_are_too_many_to_be_tried_in_ten_minutes() -> None:
    """300 a minute are looked at: in ten minutes 3,000 of 32^8 = 1.1e12, one in 366 million."""
    codes = len(LETTERS) ** CODE_LETTERS
    assert codes == 2**40
    assert codes / (TRIES_OF_ALL * 10) > 300e6


def test_it_is_valid_for_ten_minutes(pairing: Pairing, clock: Clock) -> None:
    code = pairing.show()
    clock.seconds += 599.9
    assert pairing.shown() == code
    clock.seconds += 0.1
    assert pairing.shown() is None
    assert pairing.tried(code.text, by=PHONE) == "wrong"


def test_the_one_before_is_none_any_more(pairing: Pairing) -> None:
    first, second = pairing.show(), pairing.show()
    assert first.text != second.text
    assert pairing.tried(first.text, by=PHONE) == "wrong"
    assert pairing.tried(second.text, by=PHONE) == "right"


@pytest.mark.parametrize("typed", ["", "--------", "-", "\u017f", "x" * 4000, "\x00", "🚚"])
def test_nothing_is_right_while_no_code_is_shown(pairing: Pairing, typed: str) -> None:
    assert pairing.tried(typed, by=PHONE) == "wrong"
    pairing.show()
    pairing.put_away()
    assert pairing.tried(typed, by=PHONE) == "wrong"


def test_one_address_is_slowed_and_another_is_not(pairing: Pairing, clock: Clock) -> None:
    code = pairing.show().text
    for _ in range(TRIES_OF_ONE):
        assert pairing.tried("AAAA-AAAA", by="192.0.2.66") == "wrong"
    assert pairing.tried(code, by="192.0.2.66") == "too often"
    assert pairing.tried(code, by=PHONE) == "right"
    clock.seconds += 60
    assert pairing.tried(code, by="192.0.2.66") == "right"


def test_all_together_are_slowed_and_a_new_code_lets_the_owner_try_at_once(
    pairing: Pairing,
) -> None:
    """Addresses cost nothing in a network: they are counted together too."""
    pairing.show()
    outcomes = [pairing.tried("AAAA-AAAA", by=f"fd00::{n}") for n in range(TRIES_OF_ALL + 50)]
    assert outcomes.count("wrong") == TRIES_OF_ALL
    assert outcomes[-50:] == ["too often"] * 50
    code = pairing.show().text
    assert pairing.tried(code, by=PHONE) == "right"


def test_what_is_remembered_of_a_flood_is_bounded(pairing: Pairing, clock: Clock) -> None:
    for n in itertools.islice(itertools.count(), 5000):
        clock.seconds += 0.001
        pairing.tried("AAAA-AAAA", by=f"fd00::{n}")
    assert len(pairing._wrong) <= TRIES_OF_ALL
