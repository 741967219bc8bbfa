"""What is assumed about a wish, in sentences."""

from tests.build.verbs.test_wishes import TODAY, chain, wish
from webapp.build.verbs.wish_tasks import sized
from webapp.build.wish import Wish
from webapp.pages.words.earned import FIGURE_WORDS
from webapp.pages.words.wishes import assumed_words
from webapp.planning.record.earned_figures import UNITS


def test_a_bare_wish_says_everything_that_was_assumed() -> None:
    words = assumed_words(sized(chain(), Wish(key="w1", text="Work lights", logged_on=TODAY)))
    assert words[0] == "No hours are named: an evening is assumed."
    assert len(words) == 6


def test_hours_that_were_said_are_not_assumed() -> None:
    words = assumed_words(sized(chain(), wish(2, cost=5, after="a")))
    assert words[0] == "One number of hours is no certainty: 0.75 to 2 times as many are assumed."
    assert [word.split()[0] for word in words] == ["One", "Roughing", "Fitting", "No"]


def test_every_earned_figure_has_one_sentence() -> None:
    assert FIGURE_WORDS.keys() == UNITS.keys()
    assert all(words.endswith(".") for words in FIGURE_WORDS.values())
