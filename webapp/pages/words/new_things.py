"""What is said beside the offer to make a thing that was named."""

from webapp.pages.words.quoted import shown

OFFER_NOTES = {
    "station": "one of it, or as many as the task needs; more in the shop's room of setups",
}
"""By the noun of the kind."""


def hours_words(name: str) -> str:
    """What the field of the hours of a setup is called that is made by naming it."""
    return f"{shown(name)}, hours to get it out"
