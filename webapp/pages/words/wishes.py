"""What is assumed about a wish that was not said, a sentence each."""

from webapp.build.verbs.wish_tasks import Assumption, SizedWish
from webapp.pages.words.amounts import number
from webapp.pages.words.the_end import of_the_end

SENTENCES: dict[Assumption, str] = {
    "size": "No hours are named: {size} is assumed.",
    "range": "One number of hours is no certainty: {low} to {high} times as many are assumed.",
    "rough_in_hours": "Roughing in is assumed to take a quarter of the hours.",
    "later_extra_hours": "Fitting it later is assumed to take half the hours again on top.",
    "parts": "No parts and no money are named: none are counted.",
    "after": "No task before it is named: it is taken to be able to start at once.",
    "before": "No task after it is named: it is taken to be wanted before first start.",
}


def assumed_words(wish: SizedWish) -> tuple[str, ...]:
    """A sentence for each thing that was not said."""
    size = wish.assumed_size.name if wish.assumed_size is not None else ""
    low, high = number(wish.range_shares.low), number(wish.range_shares.high)
    return tuple(
        of_the_end(SENTENCES[one]).format(size=size, low=low, high=high) for one in wish.assumed
    )


def logged_again(text: str) -> str:
    """That the same words came once more and stand once."""
    return f"“{text}” was logged a moment ago already: it stands once."
