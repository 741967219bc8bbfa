"""Full text: every word, in part and without accents; the best first."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.storage.full_text import Passage, folded, found_in, words_of


def titles(*some: str) -> list[Passage]:
    return [Passage(title=title) for title in some]


def test_every_word_has_to_be_there_in_any_order() -> None:
    passages = titles("Fit the upper hose", "Fit the lower hose", "Cut the upper tube")
    assert found_in(passages, words_of("hose upper")) == (0,)


def test_a_part_of_a_word_is_enough() -> None:
    assert found_in(titles("Mount the intercooler", "Bleed"), words_of("cooler")) == (0,)


def test_words_of_one_or_two_letters_are_found_too() -> None:
    passages = titles("Fit A/C", "M8 bolts", "Bleed")
    assert found_in(passages, words_of("M8")) == (1,)
    assert found_in(passages, words_of("c")) == (0,)
    assert found_in(passages, words_of("bo m8")) == (1,)


def test_case_and_accents_do_not_matter() -> None:
    passages = titles("ÖL WANNE", "Straße", "pump")
    assert found_in(passages, words_of("öl")) == (0,)
    assert found_in(passages, words_of("ol wanne")) == (0,)
    assert found_in(passages, words_of("STRASSE")) == (1,)


def test_what_has_the_word_in_its_title_stands_before_what_has_it_in_its_text() -> None:
    passages = [
        Passage(title="Fill", text="behind the radiator, after the hoses are on and clamped"),
        Passage(title="Radiator bracket", text="weld it"),
    ]
    assert found_in(passages, words_of("radiator")) == (1, 0)


def test_a_text_counts_as_well_as_a_title_together() -> None:
    passages = [Passage(title="Lamp", text="from Hobbs"), Passage(title="Lamp", text="from Orr")]
    assert found_in(passages, words_of("lamp hobbs")) == (0,)


@pytest.mark.parametrize("typed", ["", "   ", "\x00", "\ud800"])
def test_nothing_is_found_for_no_word(typed: str) -> None:
    assert found_in(titles("a", "b"), words_of(typed)) == ()


@pytest.mark.parametrize(
    "typed", ['"', "a AND", "NEAR(", "x* OR y", "title:x", "100%", "a_b", "(("]
)
def test_signs_of_the_index_s_own_language_are_plain_letters(typed: str) -> None:
    passages = titles(f"holds {typed} so", "holds nothing")
    assert found_in(passages, words_of(typed)) == (0,)


@settings(max_examples=50)
@given(st.lists(st.text(max_size=12), max_size=8), st.text(max_size=8))
def test_it_finds_what_reading_every_text_finds(texts: list[str], typed: str) -> None:
    """Held against a plain search through the folded texts."""
    words = words_of(typed)
    plain = {i for i, text in enumerate(texts) if words and all(w in folded(text) for w in words)}
    assert set(found_in([Passage(title=text) for text in texts], words)) == plain
