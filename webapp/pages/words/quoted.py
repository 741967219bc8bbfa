"""What was typed, as it is repeated in a sentence about it."""

SHOWN_IN_FAULT = 60
"""So many characters of a faulty entry are repeated in the sentence about it."""


def shown(text: str) -> str:
    """A faulty entry as it is repeated in a sentence: on one line, cut when long."""
    flat = " ".join(text.split())
    return flat if len(flat) <= SHOWN_IN_FAULT else flat[: SHOWN_IN_FAULT - 1] + "…"
