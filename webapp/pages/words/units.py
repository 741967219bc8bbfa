"""What the shop measures in, in words."""

from webapp.build.units import ShopUnits

UNITS_WORDS: dict[ShopUnits, str] = {
    "metric": "mm, bar, °C, litres",
    "us": "inches, psi, °F, US gallons",
    "imperial": "inches, psi, °F, imperial gallons",
}


def units_said(units: str) -> str:
    """What a choice of units means; the choice itself where there is no such."""
    return next((words for each, words in UNITS_WORDS.items() if each == units), units)
