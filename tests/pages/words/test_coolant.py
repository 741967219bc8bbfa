"""Every reason why there is no mixture has its sentence, with what to do."""

from typing import get_args

from webapp.pages.words.coolant import NO_MIXTURE
from webapp.plumbing.coolant import Refusal


def test_every_refusal_is_said_with_its_remedy() -> None:
    assert set(NO_MIXTURE) == set(get_args(Refusal))
    assert all(words.endswith(".") and words.count(".") >= 2 for words in NO_MIXTURE.values())
    assert "60%" in NO_MIXTURE["too strong"]
