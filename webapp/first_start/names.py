"""Names of people as they are compared: without case, blanks, accents and signs."""

import unicodedata

LEAST_LETTERS = 2


def same_person(one: str, other: str) -> bool:
    """Whether two ways of typing are one name."""
    return folded_person(one) == folded_person(other)


def folded_person(name: str) -> str:
    """What is left of a name when case, blanks, accents and signs are taken out."""
    apart = unicodedata.normalize("NFKD", name.casefold())
    letters = "".join(sign for sign in apart if sign.isalnum())
    return unicodedata.normalize("NFKC", letters).casefold()


def is_a_name(name: str) -> bool:
    """Whether somebody can be told by it: an "x" is nobody."""
    return sum(sign.isalpha() for sign in name) >= LEAST_LETTERS


def words_in(text: str) -> int:
    """How many words somebody wrote; a letter alone is none."""
    return sum(sum(sign.isalnum() for sign in word) > 1 for word in text.split())
