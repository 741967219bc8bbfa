"""Names as they are compared: without case, and with one blank where several stand."""


def folded_name(text: str) -> str:
    """What two ways of typing one name have in common."""
    return " ".join(text.split()).casefold()
